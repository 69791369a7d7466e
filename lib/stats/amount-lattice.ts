import { gammaTails } from "./incomplete-gamma";
import { poissonDensity } from "./poisson-density";

/** One kind among the amounts: its share of them, and mean and standard deviation of a single one of the kind. */
export interface AmountKind {
  readonly share: number;
  readonly mean: number;
  readonly spread: number;
}

/** Below this ratio of spread to mean a kind is taken as a fixed amount: no limit could show the difference. */
const FIXED_BELOW = 1e-3;
/** Amounts of a kind further than this many standard deviations above its mean are not told from there. */
const DEVIATIONS = 14;

/** Mean of a single amount over all kinds, and its variance: within the kinds and between them. Shares add to 1. */
export function amountMoments(kinds: readonly AmountKind[]): { readonly mean: number; readonly variance: number } {
  const mean = kinds.reduce((sum, kind) => sum + kind.share * kind.mean, 0);
  const variance = kinds.reduce((sum, kind) => sum + kind.share * (kind.spread ** 2 + (kind.mean - mean) ** 2), 0);
  return { mean, variance };
}

/** An amount above which no kind has anything worth telling. */
export function largestAmount(kinds: readonly AmountKind[]): number {
  return Math.max(0, ...kinds.map(({ mean, spread }) => mean + DEVIATIONS * spread));
}

/**
 * Probabilities of the amounts 0, step, 2 step, ... that stand for amounts of these kinds, each kind a gamma distribution
 * with its mean and spread. The mean is kept exactly at any step (local moment matching of the first moment); the variance
 * comes out too large by at most step^2 / 4.
 *
 * Domain: step > 0, means > 0, spreads >= 0, shares adding to 1; `length` lattice points must reach the largest amount.
 * Source: Gerber, Insurance: Math. & Econ. 1 (1982) 13; Klugman, Panjer & Willmot, Loss Models, on methods of arithmetising
 * (from memory: verify in section 9.6.5 of the 4th edition).
 */
export function amountLattice(kinds: readonly AmountKind[], step: number, length: number): Float64Array {
  const shares = new Float64Array(length);
  for (const kind of kinds) {
    const points = Math.min(length, Math.ceil(largestAmount([kind]) / step) + 2);
    let [before, at] = [0, 0];
    for (let k = 0; k < points; k++) {
      // Of E[min(X, x)] the second difference: each amount is parted between its two neighbours by nearness.
      const after = limitedMean(kind, (k + 1) * step);
      const mass = k === 0 ? 1 - after / step : (2 * at - before - after) / step;
      shares[k] = (shares[k] ?? 0) + kind.share * Math.max(0, mass);
      [before, at] = [at, after];
    }
  }
  return shares;
}

/** E[min(X, x)] of one kind. */
function limitedMean({ mean, spread }: AmountKind, x: number): number {
  if (spread < FIXED_BELOW * mean) return Math.min(mean, x);
  const shape = (mean / spread) ** 2;
  const scaled = (x / mean) * shape;
  const { below, above } = gammaTails(shape, scaled);
  // P(shape + 1, x) = P(shape, x) - x^shape exp(-x) / Gamma(shape + 1): Abramowitz & Stegun 6.5.21.
  return mean * Math.max(0, below - poissonDensity(shape, scaled)) + x * above;
}
