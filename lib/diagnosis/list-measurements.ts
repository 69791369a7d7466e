import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { chargeMeasurements } from "@/lib/diagnosis/measurements/charge";
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
    ...restMeasurements(evidence),
    ...heatMeasurements(evidence),
    ...wiringMeasurements(evidence),
    ...useMeasurements(evidence),
  ].filter((measurement) => Number.isFinite(measurement.value));
}
