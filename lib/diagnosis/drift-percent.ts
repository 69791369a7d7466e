import type { Evidence } from "@/lib/diagnosis/evidence";
import type { LeakThresholds } from "@/lib/diagnosis/leak-thresholds";
import { type OpenCircuitCurve, slopeAtSoc, slopeDoubtShare, socAtVoltage } from "@/lib/readings/measure/open-circuit";
import type { RestDrift } from "@/lib/readings/measure/rest-drift";

/** A drift of a rest in mV per day as % of charge per day where the median group stands; `null` where only a generic curve is known, or where it is flat. */
export function driftInPercent({ curve }: Evidence, drift: RestDrift, millivoltPerDay: number): number | null {
  if (curve?.source !== "pack model") return null;
  const slope = slopeAtSoc(curve, socAtVoltage(curve, drift.referenceV));
  return slope > 0 ? millivoltPerDay / 1000 / slope : null;
}

type FlatCurves = Pick<LeakThresholds, "flatElsewherePercent" | "flattestMillivoltPerPercent" | "steepBelowV">;

/** V per %, the flattest a curve of usual cells may be at this rest voltage: around its place on the generic curve, or as flat as any. */
function flattestGeneric(
  curve: OpenCircuitCurve,
  restV: number,
  { flatElsewherePercent, flattestMillivoltPerPercent, steepBelowV }: FlatCurves,
): number {
  const at = socAtVoltage(curve, restV);
  let flattest = restV < steepBelowV ? Number.POSITIVE_INFINITY : flattestMillivoltPerPercent / 1000;
  for (let apart = -flatElsewherePercent; apart <= flatElsewherePercent; apart += 1) {
    const place = Math.min(97.5, Math.max(2.5, at + apart));
    const [slope, doubt] = [slopeAtSoc(curve, place), slopeDoubtShare(curve, place)];
    flattest = Math.min(flattest, slope * (1 - doubt));
  }
  return flattest;
}

/** % of charge per day these millivolts may be at most at a rest voltage, by any curve of usual cells; infinite where it may be flat. */
export function driftWhereFlattest(
  curve: OpenCircuitCurve,
  restV: number,
  millivoltPerDay: number,
  flat: FlatCurves,
): number {
  const slope = flattestGeneric(curve, restV, flat);
  return slope > 0 ? millivoltPerDay / 1000 / slope : Number.POSITIVE_INFINITY;
}
