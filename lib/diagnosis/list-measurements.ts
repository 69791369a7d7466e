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

/** Every number the diagnosis rests on, with its method and conditions. What could not be measured is left out. */
export function listMeasurements(evidence: Evidence): Measurement[] {
  return [
    ...resistanceMeasurements(evidence),
    ...chargeMeasurements(evidence),
    ...ageingMeasurements(evidence),
    ...restMeasurements(evidence),
    ...heatMeasurements(evidence),
    ...electronicsMeasurements(evidence),
    ...flagMeasurements(evidence),
    ...wiringMeasurements(evidence),
    ...useMeasurements(evidence),
  ].flatMap(({ uncertainty, ...measurement }) =>
    Number.isFinite(measurement.value)
      ? [{ ...measurement, uncertainty: uncertainty !== null && Number.isFinite(uncertainty) ? uncertainty : null }]
      : [],
  );
}
