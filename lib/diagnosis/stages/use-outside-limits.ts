import type { DiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import type { MeasurementFaults } from "@/lib/diagnosis/stages/measurement-faults";
import type { PackModel } from "@/lib/packs/pack-model";
import { type AbuseEvents, abuseEvents } from "@/lib/readings/measure/abuse-events";
import { everyNth } from "@/lib/readings/measure/every-nth";
import { quantile } from "@/lib/readings/measure/median";
import { type OpenCircuitCurve, voltageAtSoc } from "@/lib/readings/measure/open-circuit";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface UseOutsideLimits {
  readonly abuse: readonly AbuseEvents[];
  /** A. Largest discharge current, single spikes left out. */
  readonly largestLoadA: number;
}

/** Share of rows below which a load counts as the largest: single spikes of a sensor are none. */
const spikesLeftOut = 0.999;
/** Currents looked at for it. Engineering default. */
const currentsLookedAt = 100_000;

/** Stage 8: what was asked of the pack beyond its limits, by groups and probes that can be believed. Facts, no blame. */
export function useOutsideLimits(
  survey: RowSurvey,
  { doubtfulGroups, soundProbes }: Pick<MeasurementFaults, "doubtfulGroups" | "soundProbes">,
  curve: OpenCircuitCurve | null,
  model: PackModel,
  settings: DiagnosisSettings,
): UseOutsideLimits {
  const { currentA } = survey.log;
  const sampled = everyNth(currentA, Math.ceil(currentA.length / currentsLookedAt));
  const loadA = sampled.map((current) => Math.max(0, -current));
  return {
    abuse: abuseEvents(survey, model, doubtfulGroups, soundProbes, settings.abuse, emptyBelowV(curve, settings)),
    largestLoadA: quantile(loadA, spikesLeftOut) ?? 0,
  };
}

/** Voltage below which a rested group counts as empty: by the model's own curve where it is known. */
function emptyBelowV(curve: OpenCircuitCurve | null, settings: DiagnosisSettings): number {
  if (curve?.source !== "pack model") return settings.abuse.emptyV;
  return Math.max(settings.abuse.emptyV, voltageAtSoc(curve, settings.abuse.emptyPercent));
}
