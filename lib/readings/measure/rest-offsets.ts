import { type OpenCircuitCurve, slopeAtSoc, socAtVoltage } from "@/lib/readings/measure/open-circuit";
import { restPeriods } from "@/lib/readings/measure/rest-periods";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Charge of one group against the median group, read from rest voltages alone. */
export interface RestOffset {
  readonly percent: number;
  readonly error: number;
  /** Largest minus smallest over the rests that tell. */
  readonly range: number;
  readonly rests: number;
}

/** Engineering defaults: V of a reading, and % of charge known worse than which a rest says nothing. */
const readingV = 0.004;
const tellingPercent = 1;

/**
 * Offset of every group by inverting its rest voltage through the open-circuit curve, averaged over the rests at which
 * the curve is steep enough to tell. A flat curve tells only near its ends. `null` where no rest tells.
 */
export function restOffsets(survey: RowSurvey, curve: OpenCircuitCurve): (RestOffset | null)[] {
  const rests = restPeriods(survey, survey.gates.restForOpenCircuitS);
  return Array.from({ length: survey.groups }, (_, index) => {
    let weights = 0;
    let sum = 0;
    let lowest = Number.POSITIVE_INFINITY;
    let highest = Number.NEGATIVE_INFINITY;
    let count = 0;
    for (const rest of rests) {
      const reference = socAtVoltage(curve, rest.referenceV);
      const own = socAtVoltage(curve, rest.groupV[index] ?? Number.NaN);
      const slope = Math.min(slopeAtSoc(curve, reference), slopeAtSoc(curve, own));
      const chord = Math.abs(((rest.groupV[index] ?? 0) - rest.referenceV) / (own - reference || Number.NaN)) || 0;
      const error = readingV / Math.max(slope, chord, 1e-6);
      if (!Number.isFinite(own) || error > tellingPercent) continue;
      const off = own - reference;
      weights += 1 / error ** 2;
      sum += off / error ** 2;
      lowest = Math.min(lowest, off);
      highest = Math.max(highest, off);
      count += 1;
    }
    if (count === 0) return null;
    return { percent: sum / weights, error: 1 / Math.sqrt(weights), range: highest - lowest, rests: count };
  });
}
