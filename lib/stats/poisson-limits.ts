import { findRoot } from "./find-root";
import { gammaQuantile, gammaTails } from "./incomplete-gamma";
import { twoSidedNormalQuantile } from "./normal-quantile";
import { poissonDensity } from "./poisson-density";
import type { Limits } from "./survival-limits";

/**
 * Exact two-sided limits for the mean of a Poisson count: the means at which a count this high, or this low, has a
 * probability of half of (1 - confidence). They hold the truth at least as often as promised, for few counts more often.
 *
 * Lower: quantile of a gamma variable of shape count; upper: of shape count + 1. A count of 0 has the lower limit 0 and
 * an upper limit of 3.69 at 95 %; for a one-sided 95 % upper limit (3.00) ask for 90 %.
 * Domain: count a whole number from 0, confidence between 0 and 1, else a RangeError.
 * Source: Garwood, Biometrika 28 (1936) 437-442.
 */
export function poissonLimits(count: number, confidence = 0.95): Limits {
  const tail = checkedTail(count, confidence);
  return { lower: count === 0 ? 0 : gammaQuantile(count, tail), upper: gammaQuantile(count + 1, tail, "above") };
}

/**
 * Mid-p limits for the mean of a Poisson count: as the exact ones, but only half of the probability of the count itself
 * is added to the tail. Shorter, and right on average rather than at least: for single means they can fall below.
 * Domain as for `poissonLimits`. Source: Berry & Armitage, The Statistician 44 (1995) 417-423.
 */
export function poissonMidPLimits(count: number, confidence = 0.95): Limits {
  const tail = checkedTail(count, confidence);
  const exact = poissonLimits(count, confidence);
  // P(X < count) + half of P(X = count), with P(X <= k) the upper gamma tail of shape k + 1.
  const below = (mean: number) =>
    (count === 0 ? 0 : gammaTails(count, mean).above) + poissonDensity(count, mean) / 2 - tail;
  const above = (mean: number) => gammaTails(count + 1, mean).below + poissonDensity(count, mean) / 2 - tail;
  return {
    lower: count === 0 ? 0 : findRoot(above, exact.lower, count),
    upper: findRoot(below, count, exact.upper),
  };
}

/**
 * Byar's approximation to the exact limits: no iteration, within 1 % from about 5 counts on for the upper limit and
 * about 4 for the lower one; for tables that must be checked by hand. A count of 0 has the lower limit 0.
 * Source: Breslow & Day, Statistical Methods in Cancer Research, vol. II (1987), section 2.3.
 */
export function byarLimits(count: number, confidence = 0.95): Limits {
  checkedTail(count, confidence);
  const z = twoSidedNormalQuantile(confidence);
  const cube = (n: number, side: -1 | 1) => n * (1 - 1 / (9 * n) + (side * z) / (3 * Math.sqrt(n))) ** 3;
  return { lower: count === 0 ? 0 : Math.max(0, cube(count, -1)), upper: cube(count + 1, 1) };
}

export interface RateEstimate extends Limits {
  readonly rate: number;
  readonly count: number;
  readonly exposure: number;
}

/**
 * Events per unit of exposure with exact limits. Sums up a hazard that does not change with age; where it does, quote
 * the share failed at one age instead. Domain: exposure > 0, else a RangeError.
 */
export function poissonRate(count: number, exposure: number, confidence = 0.95): RateEstimate {
  if (!(exposure > 0 && Number.isFinite(exposure))) throw new RangeError(`exposure must be above 0, got ${exposure}`);
  const { lower, upper } = poissonLimits(count, confidence);
  return { rate: count / exposure, lower: lower / exposure, upper: upper / exposure, count, exposure };
}

function checkedTail(count: number, confidence: number): number {
  if (!Number.isSafeInteger(count) || count < 0)
    throw new RangeError(`count must be a whole number from 0, got ${count}`);
  if (!(confidence > 0 && confidence < 1))
    throw new RangeError(`confidence must lie between 0 and 1, got ${confidence}`);
  return (1 - confidence) / 2;
}
