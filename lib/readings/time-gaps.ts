import { medianOf } from "@/lib/readings/median";

/** A step longer than this multiple of the usual one is a gap (engineering default, no authority). */
const gapMedians = 5;
/** Steps up to this many seconds are never a gap (engineering default, no authority). */
const shortestGapS = 60;

/**
 * Longest step between two rows, s, over which anything may be integrated: the larger of five times the median step and one minute.
 * Steps across a change of segment and steps of zero are left out of the median. One minute where there is no step at all.
 */
export function gapLimitS(timeS: Float64Array, segment: Int32Array): number {
  const steps = new Float64Array(Math.max(0, timeS.length - 1));
  let count = 0;
  for (let row = 1; row < timeS.length; row++) {
    const step = (timeS[row] ?? 0) - (timeS[row - 1] ?? 0);
    if (segment[row] === segment[row - 1] && step > 0) steps[count++] = step;
  }
  const median = medianOf(steps.subarray(0, count));
  return Number.isFinite(median) ? Math.max(gapMedians * median, shortestGapS) : shortestGapS;
}

/**
 * Share of the time span that lies in steps no longer than `longestStepS`, 0 to 1. A file without any span (one row, or all rows at
 * one time) has coverage 0: nothing can be integrated.
 */
export function coverageShare(timeS: Float64Array, segment: Int32Array, longestStepS: number): number {
  let coveredS = 0;
  let spanS = 0;
  for (let row = 1; row < timeS.length; row++) {
    const step = (timeS[row] ?? 0) - (timeS[row - 1] ?? 0);
    if (segment[row] !== segment[row - 1] || !(step > 0)) continue;
    spanS += step;
    if (step <= longestStepS) coveredS += step;
  }
  return spanS > 0 ? Math.min(1, coveredS / spanS) : 0;
}
