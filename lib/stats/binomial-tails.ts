import beta from "@stdlib/stats-base-dists-beta";
import { logPoissonDensity } from "./poisson-density";

/**
 * Probability of exactly `count` among `trials`, each with probability p, as a ratio of Poisson densities, which keep
 * their digits at any size. Domain: whole 0 <= count <= trials, 0 <= p <= 1.
 * Source: Loader, Fast and Accurate Computation of Binomial Probabilities (2000).
 */
export function binomialDensity(count: number, trials: number, p: number): number {
  const logSuccesses = logPoissonDensity(count, trials * p);
  const logFailures = logPoissonDensity(trials - count, trials * (1 - p));
  return Math.exp(logSuccesses + logFailures - logPoissonDensity(trials, trials));
}

/** Probability of `count` or more among `trials`. Source: Abramowitz & Stegun 26.5.24. */
export function binomialAtLeast(count: number, trials: number, p: number): number {
  if (count <= 0) return 1;
  return count > trials ? 0 : beta.cdf(p, count, trials - count + 1);
}

/** Probability of `count` or fewer among `trials`: by symmetry, not as one minus the other tail. */
export function binomialAtMost(count: number, trials: number, p: number): number {
  return binomialAtLeast(trials - count, trials, 1 - p);
}

/**
 * Probability of `count` or more successes in all, of several kinds of trials each with a probability of its own: the kinds'
 * distributions folded into one. Its cost grows with the square of the trials.
 */
export function binomialSumAtLeast(count: number, kinds: readonly { readonly trials: number; readonly p: number }[]) {
  let sums = [1];
  for (const { trials, p } of kinds) {
    const own = Array.from({ length: trials + 1 }, (_, k) => binomialDensity(k, trials, p));
    const folded = Array.from({ length: sums.length + trials }, () => 0);
    for (const [i, before] of sums.entries())
      for (const [k, density] of own.entries()) folded[i + k] = (folded[i + k] ?? 0) + before * density;
    sums = folded;
  }
  return sums.slice(Math.max(0, count)).reduce((total, one) => total + one, 0);
}
