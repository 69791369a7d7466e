import { findRoot } from "./find-root";

/** Logarithms of factors searched; e^40 is without limit for any count of units. */
const LARGEST_LOG_FACTOR = 40;

/**
 * Answers: by which factors may the odds of all counts be multiplied, each to the power of the count, before the one seen is rare? Mid-p
 * limits of a family of distributions of one parameter: half of the chance of the count seen stands in each tail.
 *
 * @param logChances of the counts 0, 1, ... at factor 1, up to a constant; -Infinity where a count cannot be.
 * @param seen position of the count seen. @param tail chance of each tail at its limit.
 * @returns logarithms; null where nothing lies beyond the count seen on that side, or no factor searched makes it rare.
 */
export function tiltedLimits(
  logChances: ArrayLike<number>,
  seen: number,
  tail: number,
): { readonly lower: number | null; readonly upper: number | null } {
  const below = (logFactor: number) => sideOf(logChances, seen, logFactor, -1) - tail;
  const above = (logFactor: number) => sideOf(logChances, seen, logFactor, 1) - tail;
  return { lower: limitOf(above, -1), upper: limitOf(below, 1) };
}

/** Mid-p tail below (-1) or above (1) the count seen. */
function sideOf(logChances: ArrayLike<number>, seen: number, logFactor: number, side: -1 | 1): number {
  let highest = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < logChances.length; k++)
    highest = Math.max(highest, (logChances[k] ?? Number.NEGATIVE_INFINITY) + (k - seen) * logFactor);
  let [all, its] = [0, 0];
  for (let k = 0; k < logChances.length; k++) {
    const chance = Math.exp((logChances[k] ?? Number.NEGATIVE_INFINITY) + (k - seen) * logFactor - highest);
    all += chance;
    if (k === seen) its += chance / 2;
    else if (k > seen === side > 0) its += chance;
  }
  return its / all;
}

/** Where a tail that falls in the direction of `side` comes down to what is asked; null where it never does. */
function limitOf(spare: (logFactor: number) => number, side: -1 | 1): number | null {
  // From the far side, on which the tail is 1 or half of it, each step twice as long.
  let near = 0;
  for (let step = 0.5; spare(near) < 0; step *= 2) {
    if (near === -side * LARGEST_LOG_FACTOR) return null;
    near = Math.max(-LARGEST_LOG_FACTOR, Math.min(LARGEST_LOG_FACTOR, near - side * step));
  }
  let far = near;
  for (let step = 0.5; spare(far) >= 0; step *= 2) {
    if (far === side * LARGEST_LOG_FACTOR) return null;
    far = Math.max(-LARGEST_LOG_FACTOR, Math.min(LARGEST_LOG_FACTOR, far + side * step));
  }
  return findRoot(spare, near, far);
}
