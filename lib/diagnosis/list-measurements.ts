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
  const [ageing, others] = both(
    () => ageingMeasurements(evidence),
    () => ({
      heat: heatMeasurements(evidence),
      resistance: resistanceMeasurements(evidence),
      charge: chargeMeasurements(evidence),
      rest: restMeasurements(evidence),
      last: [
        ...electronicsMeasurements(evidence),
        ...flagMeasurements(evidence),
        ...wiringMeasurements(evidence),
        ...useMeasurements(evidence),
      ],
    }),
  );
  return [...others.resistance, ...others.charge, ...ageing, ...others.rest, ...others.heat, ...others.last]
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
