import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";

/** Every number the diagnosis rests on, with its method and conditions. */
export function listMeasurements(_evidence: Evidence): Measurement[] {
  return [];
}
