import type { Evidence } from "@/lib/diagnosis/evidence";
import { slopeAtSoc, socAtVoltage } from "@/lib/readings/measure/open-circuit";
import type { RestDrift } from "@/lib/readings/measure/rest-drift";

/** A drift of a rest in mV per day as % of charge per day; `null` where only a generic curve is known, or where it is flat. */
export function driftInPercent(evidence: Evidence, drift: RestDrift, millivoltPerDay: number): number | null {
  if (evidence.curve?.source !== "pack model") return null;
  const slope = slopeAtSoc(evidence.curve, socAtVoltage(evidence.curve, drift.referenceV));
  return slope > 0 ? millivoltPerDay / 1000 / slope : null;
}
