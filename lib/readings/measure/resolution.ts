import { everyNth } from "@/lib/readings/measure/every-nth";

/** Rows looked at. Engineering default. */
const rowsWanted = 4000;
/** Differences below this are rounding of the arithmetic, not of the logger. */
const arithmetic = 1e-7;

/**
 * Smallest step between different values of a column: the resolution it was logged with, in its own unit. 0 where it
 * never changes. Float noise of derived columns is ignored.
 */
export function columnResolution(column: Float64Array): number {
  const stride = Math.max(1, Math.floor(column.length / rowsWanted));
  const sample = everyNth(column, stride).slice().sort();
  let smallest = Number.POSITIVE_INFINITY;
  for (let at = 1; at < sample.length; at += 1) {
    const step = (sample[at] ?? 0) - (sample[at - 1] ?? 0);
    // A missing value sorts last and gives no step.
    if (step > arithmetic && step < smallest) smallest = step;
  }
  return Number.isFinite(smallest) ? smallest : 0;
}

/** Standard uncertainty of one reading from its resolution alone: a step over the root of twelve (JCGM 100:2008, 4.3.7). */
export function roundingOf(column: Float64Array): number {
  return roundingOfStep(columnResolution(column));
}

/** The same where the resolution is known. */
export function roundingOfStep(resolution: number): number {
  return resolution / Math.sqrt(12);
}
