import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { ageingMeasurements } from "@/lib/diagnosis/measurements/ageing";
import { chargeMeasurements } from "@/lib/diagnosis/measurements/charge";
import { electronicsMeasurements } from "@/lib/diagnosis/measurements/electronics";
import { flagMeasurements } from "@/lib/diagnosis/measurements/flags";
import { heatMeasurements } from "@/lib/diagnosis/measurements/heat";
import { resistanceMeasurements } from "@/lib/diagnosis/measurements/resistance";
import { restMeasurements } from "@/lib/diagnosis/measurements/rest";
import { useMeasurements } from "@/lib/diagnosis/measurements/use";
import { wiringMeasurements } from "@/lib/diagnosis/measurements/wiring";
import { type Both, inTurn } from "@/lib/readings/both";

/** Every number the diagnosis rests on, with its method and conditions. What could not be measured is left out. */
export function listMeasurements(evidence: Evidence, both: Both = inTurn): Measurement[] {
  // Resting cells, ageing and use ask for the same rows and counters, so one side measures them; the other has steps and switches worked out before.
  const [loaded, rested] = both(
    () => ({
      resistance: resistanceMeasurements(evidence),
      charge: chargeMeasurements(evidence),
      last: [...electronicsMeasurements(evidence), ...flagMeasurements(evidence), ...wiringMeasurements(evidence)],
    }),
    () => ({
      ageing: ageingMeasurements(evidence),
      rest: restMeasurements(evidence),
      heat: heatMeasurements(evidence),
      use: useMeasurements(evidence),
    }),
  );
  const { resistance, charge, last } = loaded;
  const { ageing, rest, heat, use } = rested;
  return [...resistance, ...charge, ...ageing, ...rest, ...heat, ...last, ...use]
    .filter(({ value }) => Number.isFinite(value))
    .map((measurement) => ({
      ...measurement,
      uncertainty: Number.isFinite(measurement.uncertainty) ? measurement.uncertainty : null,
      conditions: isVoid(evidence, measurement) ? `${measurement.conditions}; ${voidWords}` : measurement.conditions,
    }));
}

const voidWords = "void: the reading of this group is at fault";

/** What is said of a cell from a channel that is at fault; of the fault itself it is the evidence. */
function isVoid({ doubtfulGroups }: Evidence, { name, group }: Measurement): boolean {
  return group !== null && doubtfulGroups.has(group) && /^(resistance|capacity|charge|rest-drift|shortfall)/.test(name);
}
