import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** What of a pack decides how fast its own losses can warm it. */
export interface HeatingPack {
  /** ohm, one series group when new. */
  readonly groupOhm: number;
  readonly ratedCapacityAh: number;
  /** A, taken where a row has no current. */
  readonly continuousA: number;
}

/** Wh/kg and J/(kg K) of cells, from memory; both on the side that warms faster. V, mean of a cell. */
const specificEnergyWhPerKg = 250;
const specificHeatJPerKgK = 900;
const meanCellV = 3.65;

/**
 * K/min by which the pack's own resistance can warm its cells at most, were no heat given off: I²R over mass times
 * specific heat, at the largest current of the last `windowS`. The largest and not the mean, because a bad joint has little
 * mass of its own and warms within seconds of a burst: that is a fault, and no emergency.
 */
export function expectedHeatingKPerMin(survey: RowSurvey, pack: HeatingPack, windowS: number, row: number): number {
  const { timeS, segment, currentA } = survey.log;
  const massKg = (pack.ratedCapacityAh * meanCellV) / specificEnergyWhPerKg;
  let largestA = 0;
  for (let at = row; at >= 0 && segment[at] === segment[row]; at -= 1) {
    if ((timeS[row] ?? 0) - (timeS[at] ?? 0) > windowS) break;
    const logged = Math.abs(currentA[at] ?? Number.NaN);
    largestA = Math.max(largestA, Number.isFinite(logged) ? logged : pack.continuousA);
  }
  return (60 * largestA * largestA * pack.groupOhm) / (massKg * specificHeatJPerKgK);
}
