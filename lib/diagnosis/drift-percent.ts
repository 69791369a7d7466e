import type { Evidence } from "@/lib/diagnosis/evidence";
import { type OpenCircuitCurve, slopeAtSoc, slopeDoubtShare, socAtVoltage } from "@/lib/readings/measure/open-circuit";
import type { RestDrift } from "@/lib/readings/measure/rest-drift";

/** A drift of a rest in mV per day as % of charge per day where the median group stands; `null` where only a generic curve is known, or where it is flat. */
export function driftInPercent({ curve }: Evidence, drift: RestDrift, millivoltPerDay: number): number | null {
  if (curve?.source !== "pack model") return null;
  const slope = slopeAtSoc(curve, socAtVoltage(curve, drift.referenceV));
  return slope > 0 ? millivoltPerDay / 1000 / slope : null;
}

/** % of charge either way within which a generic curve may have its flat parts elsewhere than the pack's own. Engineering default. */
const flatElsewherePercent = 10;

/**
 * V per %: the flattest five per cent of any curve of layered oxide known here, Ecker2015 between 45 and 50 % of charge (diagnostics.md
 * 1.8), and the rest voltage under which all of them are steep. Which of them a model without its own curve follows nobody knows.
 */
const flattestKnownV = 0.0013;
const steepBelowV = 3.5;

/** V per %, the flattest a curve of usual cells may be at this rest voltage: around its place on the generic curve, or as flat as any. */
function flattestGeneric(curve: OpenCircuitCurve, restV: number): number {
  const at = socAtVoltage(curve, restV);
  let flattest = restV < steepBelowV ? Number.POSITIVE_INFINITY : flattestKnownV;
  for (let apart = -flatElsewherePercent; apart <= flatElsewherePercent; apart += 1) {
    const place = Math.min(97.5, Math.max(2.5, at + apart));
    const [slope, doubt] = [slopeAtSoc(curve, place), slopeDoubtShare(curve, place)];
    flattest = Math.min(flattest, slope * (1 - doubt));
  }
  return flattest;
}

/** % of charge per day these millivolts may be at most at a rest voltage, by any curve of usual cells; infinite where it may be flat. */
export function driftWhereFlattest(curve: OpenCircuitCurve, restV: number, millivoltPerDay: number): number {
  const slope = flattestGeneric(curve, restV);
  return slope > 0 ? millivoltPerDay / 1000 / slope : Number.POSITIVE_INFINITY;
}
