import { medianOf } from "@/lib/readings/median";

/** A step longer than this multiple of the usual one is a gap (engineering default, no authority). */
const gapMedians = 5;
/** Steps looked at for the usual one: all of a short log, evenly spread ones of a long log (engineering default, no authority). */
const stepsLookedAt = 100_000;
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
  const median = medianOf(steps.subarray(0, count), stepsLookedAt);
  return Number.isFinite(median) ? Math.max(gapMedians * median, shortestGapS) : shortestGapS;
}

/** 1 in each row with at least one finite value among `voltagesV`. */
export function rowsWithVoltage(voltagesV: readonly Float64Array[], rows: number): Uint8Array {
  const measured = new Uint8Array(rows);
  for (let row = 0; row < rows; row++)
    if (voltagesV.some((voltageV) => Number.isFinite(voltageV[row]))) measured[row] = 1;
  return measured;
}

/**
 * Share of the time span that lies in steps no longer than `longestStepS` from one measured row to the next, 0 to 1: time in which
 * rows come but carry no voltage is not covered. A file without any span (one row, or all rows at one time) has coverage 0: nothing
 * can be integrated.
 */
export function coverageShare(
  timeS: Float64Array,
  segment: Int32Array,
  longestStepS: number,
  measured: Uint8Array,
): number {
  let coveredS = 0;
  let spanS = 0;
  let lastMeasured = -1;
  for (let row = 0; row < timeS.length; row++) {
    const now = timeS[row] ?? 0;
    if (row > 0 && segment[row] === segment[row - 1]) spanS += Math.max(0, now - (timeS[row - 1] ?? 0));
    if (measured[row] !== 1) continue;
    if (lastMeasured >= 0 && segment[row] === segment[lastMeasured]) {
      const step = now - (timeS[lastMeasured] ?? 0);
      if (step > 0 && step <= longestStepS) coveredS += step;
    }
    lastMeasured = row;
  }
  return spanS > 0 ? Math.min(1, coveredS / spanS) : 0;
}
