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

/** V per %, flattest and steepest around a state of charge, the doubt of a generic curve taken off and put on. */
export function flattestAndSteepest(curve: OpenCircuitCurve, at: number): readonly [number, number] {
  let flattest = Number.POSITIVE_INFINITY;
  let steepest = 0;
  for (let apart = -flatElsewherePercent; apart <= flatElsewherePercent; apart += 1) {
    const place = Math.min(97.5, Math.max(2.5, at + apart));
    const [slope, doubt] = [slopeAtSoc(curve, place), slopeDoubtShare(curve, place)];
    flattest = Math.min(flattest, slope * (1 - doubt));
    steepest = Math.max(steepest, slope * (1 + doubt));
  }
  return [flattest, steepest];
}

/** The same where a generic curve is flattest around the rest: the most charge these millivolts may be. */
export function driftWhereFlattest(curve: OpenCircuitCurve, drift: RestDrift, millivoltPerDay: number): number | null {
  const [slope] = flattestAndSteepest(curve, socAtVoltage(curve, drift.referenceV));
  return slope > 0 ? millivoltPerDay / 1000 / slope : null;
}
