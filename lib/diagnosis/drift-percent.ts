import type { Evidence } from "@/lib/diagnosis/evidence";
import { slopeAtSoc, socAtVoltage } from "@/lib/readings/measure/open-circuit";
import type { RestDrift } from "@/lib/readings/measure/rest-drift";

/** A drift of a rest in mV per day as % of charge per day; `null` where only a generic curve is known, or where it is flat. */
export function driftInPercent(evidence: Evidence, drift: RestDrift, millivoltPerDay: number): number | null {
  return evidence.curve?.source === "pack model" ? driftByAnyCurve(evidence, drift, millivoltPerDay) : null;
}

/** The same by a generic curve where the model has none: good enough to be careful, not to find a fault by. */
export function driftByAnyCurve({ curve }: Evidence, drift: RestDrift, millivoltPerDay: number): number | null {
  if (curve === null) return null;
  const slope = slopeAtSoc(curve, socAtVoltage(curve, drift.referenceV));
  return slope > 0 ? millivoltPerDay / 1000 / slope : null;
}
