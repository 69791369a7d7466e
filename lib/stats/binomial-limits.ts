import beta from "@stdlib/stats-base-dists-beta";
import { binomialAtLeast, binomialAtMost, binomialDensity } from "./binomial-tails";
import { findRoot } from "./find-root";
import { twoSidedNormalQuantile } from "./normal-quantile";
import type { Limits } from "./survival-limits";

/**
 * Exact two-sided limits for a share, x of n: the shares at which x or more, and x or fewer, have a probability of half
 * of (1 - confidence). Hold the truth at least as often as promised.
 * Domain: whole 0 <= x <= n, n from 1, confidence between 0 and 1, else a RangeError. Edges: x = 0 has the lower limit 0,
 * x = n the upper limit 1. Source: Clopper & Pearson, Biometrika 26 (1934) 404-413.
 */
export function clopperPearsonLimits(x: number, n: number, confidence = 0.95): Limits {
  const tail = checkedTail(x, n, confidence);
  return {
    lower: x === 0 ? 0 : beta.quantile(tail, x, n - x + 1),
    upper: x === n ? 1 : beta.quantile(1 - tail, x + 1, n - x),
  };
}

/**
 * Score limits: shares whose distance from x / n is at most z of their own standard errors. Right on average; near a share
 * of 0 or 1 coverage dips to about 0.84 at some truths, so quote the exact ones where 0 of n matters.
 * Clamped to 0 and 1, which rounding would overstep by a few 1e-17. Source: Wilson, JASA 22 (1927) 209-212.
 */
export function wilsonLimits(x: number, n: number, confidence = 0.95): Limits {
  checkedTail(x, n, confidence);
  const z = twoSidedNormalQuantile(confidence);
  const p = x / n;
  const centre = p + (z * z) / (2 * n);
  const reach = z * Math.sqrt((p * (1 - p)) / n + (z * z) / (4 * n * n));
  const scale = 1 + (z * z) / n;
  return {
    lower: x === 0 ? 0 : Math.max(0, (centre - reach) / scale),
    upper: x === n ? 1 : Math.min(1, (centre + reach) / scale),
  };
}

/**
 * Equal-tailed limits of the posterior under the Jeffreys prior, with the ends set to 0 at x = 0 and to 1 at x = n.
 * Source: Brown, Cai & DasGupta, Statist. Sci. 16 (2001) 101-133.
 */
export function jeffreysLimits(x: number, n: number, confidence = 0.95): Limits {
  const tail = checkedTail(x, n, confidence);
  return {
    lower: x === 0 ? 0 : beta.quantile(tail, x + 0.5, n - x + 0.5),
    upper: x === n ? 1 : beta.quantile(1 - tail, x + 0.5, n - x + 0.5),
  };
}

/**
 * Mid-p limits: as the exact ones, with half of the probability of x itself in each tail. Shorter, right on average
 * rather than at least. Source: Berry & Armitage, The Statistician 44 (1995) 417-423; Newcombe, Statist. Med. 17 (1998)
 * 857-872.
 */
export function midPBinomialLimits(x: number, n: number, confidence = 0.95): Limits {
  const tail = checkedTail(x, n, confidence);
  const exact = clopperPearsonLimits(x, n, confidence);
  const above = (p: number) => binomialAtLeast(x, n, p) - binomialDensity(x, n, p) / 2 - tail;
  const below = (p: number) => binomialAtMost(x, n, p) - binomialDensity(x, n, p) / 2 - tail;
  return {
    lower: x === 0 ? 0 : findRoot(above, exact.lower * 0.999, x === n ? 1 - Number.EPSILON : x / n),
    upper: x === n ? 1 : findRoot(below, x === 0 ? Number.EPSILON : x / n, exact.upper),
  };
}

function checkedTail(x: number, n: number, confidence: number): number {
  if (!Number.isSafeInteger(n) || n < 1) throw new RangeError(`n must be a whole number from 1, got ${n}`);
  if (!Number.isSafeInteger(x) || x < 0 || x > n) throw new RangeError(`x must be whole, from 0 to ${n}, got ${x}`);
  if (!(confidence > 0 && confidence < 1))
    throw new RangeError(`confidence must lie between 0 and 1, got ${confidence}`);
  return (1 - confidence) / 2;
}
