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
  let count = 0;
  for (let row = 1; row < timeS.length; row++) if (stepTo(row, timeS, segment) > 0) count++;
  // Only the steps looked at are kept: those of a long log would be as large as one of its columns.
  const stride = Math.max(1, Math.ceil(count / stepsLookedAt));
  const steps = new Float64Array(Math.ceil(count / stride));
  let place = 0;
  for (let row = 1; row < timeS.length; row++) {
    const step = stepTo(row, timeS, segment);
    if (step > 0 && place++ % stride === 0) steps[(place - 1) / stride] = step;
  }
  const median = medianOf(steps);
  return Number.isFinite(median) ? Math.max(gapMedians * median, shortestGapS) : shortestGapS;
}

/** Usual steps between rows with a current over which one that is silent among them is counted through: one or two rows, and a clock's jitter (engineering default, no authority). */
const silentSteps = 2.5;

/**
 * Longest step, s, from one row with a current to the next over which charge may be counted where rows without one lie between: two and a
 * half of the usual such steps, and no longer than a gap. Between peaks of load a current is anything, so a longer silence is missing time.
 */
export function silenceLimitS(timeS: Float64Array, currentA: Float64Array, segment: Int32Array, gapS: number): number {
  let silent = 0;
  for (let row = 0; row < currentA.length; row++) if (Number.isNaN(currentA[row])) silent++;
  const known = currentA.length - silent;
  if (silent === 0 || known < 2) return gapS;
  const stride = Math.max(1, Math.ceil(known / stepsLookedAt));
  const steps: number[] = [];
  let before = -1;
  let place = 0;
  for (let row = 0; row < currentA.length; row++) {
    if (Number.isNaN(currentA[row])) continue;
    if (before >= 0 && segment[row] === segment[before] && place++ % stride === 0)
      steps.push((timeS[row] ?? 0) - (timeS[before] ?? 0));
    before = row;
  }
  const usual = medianOf(Float64Array.from(steps));
  return Number.isFinite(usual) ? Math.min(gapS, silentSteps * usual) : gapS;
}

/** Seconds since the row before; 0 across a change of segment. */
function stepTo(row: number, timeS: Float64Array, segment: Int32Array): number {
  return segment[row] === segment[row - 1] ? (timeS[row] ?? 0) - (timeS[row - 1] ?? 0) : 0;
}

/** 1 in each row with at least one finite value among `voltagesV`. */
export function rowsWithVoltage(voltagesV: readonly Float64Array[], rows: number): Uint8Array {
  const measured = new Uint8Array(rows);
  for (const voltageV of voltagesV) if (markMeasured(voltageV, measured) === rows) break;
  return measured;
}

/** Marks the rows in which this voltage is finite; returns how many rows are marked by now. */
function markMeasured(voltageV: Float64Array, measured: Uint8Array): number {
  let marked = 0;
  for (let row = 0; row < measured.length; row++) {
    const voltage = voltageV[row] ?? Number.NaN;
    // Finite: neither infinite nor NaN, whose difference from itself is NaN.
    if (voltage - voltage === 0) measured[row] = 1;
    marked += measured[row] ?? 0;
  }
  return marked;
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
