import { oncePerEvidence } from "@/lib/diagnosis/once-per-evidence";
import { type SwitchHeating, switchHeating } from "@/lib/readings/measure/switch-heating";

/** What the load of a minute warms the switches by, against the probes that are not at fault, and how many these are. */
export interface SwitchWarming {
  readonly heating: SwitchHeating | null;
  readonly probes: number;
}

export const switchWarming = oncePerEvidence(({ survey, probeFaults }): SwitchWarming => {
  const sound = survey.log.temperatures.filter(({ name }) => !probeFaults.some(({ probe }) => probe === name));
  const heating = switchHeating(
    survey,
    sound.map(({ valuesC }) => valuesC),
  );
  return { heating, probes: sound.length };
});
