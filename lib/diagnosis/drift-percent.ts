import type { Evidence } from "@/lib/diagnosis/evidence";
import { type OpenCircuitCurve, slopeAtSoc, slopeDoubtShare, socAtVoltage } from "@/lib/readings/measure/open-circuit";
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

/** % of charge either way within which a generic curve may have its flat parts elsewhere than the pack's own. Engineering default. */
const flatElsewherePercent = 10;

/** The same where a generic curve is flattest around the rest, its doubt taken off: the most charge these millivolts may be. */
export function driftWhereFlattest(curve: OpenCircuitCurve, drift: RestDrift, millivoltPerDay: number): number | null {
  const at = socAtVoltage(curve, drift.referenceV);
  let slope = Number.POSITIVE_INFINITY;
  for (let apart = -flatElsewherePercent; apart <= flatElsewherePercent; apart += 1) {
    const place = Math.min(97.5, Math.max(2.5, at + apart));
    slope = Math.min(slope, slopeAtSoc(curve, place) * (1 - slopeDoubtShare(curve, place)));
  }
  return slope > 0 ? millivoltPerDay / 1000 / slope : null;
}
