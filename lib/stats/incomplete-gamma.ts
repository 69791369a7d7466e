import normal from "@stdlib/stats-base-dists-normal";
import { logPoissonDensity } from "./poisson-density";

export interface GammaTails {
  /** Probability that the gamma variable is at most x. */
  readonly below: number;
  /** That it is above x: computed by itself where it is the small one, so that nothing cancels. */
  readonly above: number;
}

/** Each term adds a digit only every sqrt(shape) terms or so: enough for shapes up to about ten million. */
const MOST_TERMS = 200_000;
/** Keeps Lentz's method away from a division by 0. */
const TINY = 1e-300;

/**
 * Both tails of a gamma distribution of rate 1: the regularised incomplete gamma functions P and Q.
 *
 * Series below the mean, continued fraction above it. Written here because @stdlib/math-base-special-gammainc 0.3.1 is
 * wrong by up to a third for shapes between about 1,000 and 3,000 (found by comparing it with R 4.2.2, pgamma).
 * Domain: shape > 0, x >= 0, else a RangeError.
 * Source: Abramowitz & Stegun 6.5.29 and 6.5.31; Press et al., Numerical Recipes (1992), section 6.2.
 */
export function gammaTails(shape: number, x: number): GammaTails {
  if (!(shape > 0)) throw new RangeError(`shape must be above 0, got ${shape}`);
  if (!(x >= 0)) throw new RangeError(`x must be 0 or more, got ${x}`);
  if (x === 0) return { below: 0, above: 1 };
  if (x === Number.POSITIVE_INFINITY) return { below: 1, above: 0 };
  const density = Math.exp(logPoissonDensity(shape, x));
  if (x < shape + 1) {
    const below = Math.min(1, density * seriesSum(shape, x));
    return { below, above: 1 - below };
  }
  const above = Math.min(1, density * shape * continuedFraction(shape, x));
  return { below: 1 - above, above };
}

/** 1 + x/(shape+1) + x^2/((shape+1)(shape+2)) + ... */
function seriesSum(shape: number, x: number): number {
  let sum = 1;
  let term = 1;
  for (let n = 1; n < MOST_TERMS; n++) {
    term *= x / (shape + n);
    sum += term;
    if (term < sum * 1e-17) break;
  }
  return sum;
}

/** 1/(x+1-shape- 1(1-shape)/(x+3-shape- 2(2-shape)/(x+5-shape- ...))), by the modified Lentz method. */
function continuedFraction(shape: number, x: number): number {
  let b = x + 1 - shape;
  let c = 1 / TINY;
  let d = 1 / b;
  let fraction = d;
  for (let n = 1; n < MOST_TERMS; n++) {
    const a = -n * (n - shape);
    b += 2;
    d = a * d + b;
    if (Math.abs(d) < TINY) d = TINY;
    c = b + a / c;
    if (Math.abs(c) < TINY) c = TINY;
    d = 1 / d;
    const change = c * d;
    fraction *= change;
    if (Math.abs(change - 1) < 1e-16) break;
  }
  return fraction;
}

/**
 * Value that a gamma variable of rate 1 stays below with probability `level` (side "below"), or exceeds with it
 * (side "above": ask this way for levels near 1, which a double can no longer hold).
 *
 * Newton steps on the logarithm of the tail, kept inside a bracket that bisection shrinks. To about 14 digits.
 * Domain: shape > 0; level from 0 to 1, else a RangeError. Edges: level 0 and 1 give 0 and infinity.
 */
export function gammaQuantile(shape: number, level: number, side: "below" | "above" = "below"): number {
  if (!(level >= 0 && level <= 1)) throw new RangeError(`level must lie between 0 and 1, got ${level}`);
  if (level === 0 || level === 1) return (level === 0) === (side === "below") ? 0 : Number.POSITIVE_INFINITY;
  // Whichever tail is the smaller one at the answer is the one whose logarithm is worth following.
  const follows = level <= 0.5 ? side : side === "below" ? "above" : "below";
  const target = level <= 0.5 ? level : 1 - level;
  let [low, high] = [0, Number.POSITIVE_INFINITY];
  let x = firstGuess(shape, follows === "below" ? target : 1 - target);
  for (let i = 0; i < 200; i++) {
    const tails = gammaTails(shape, x);
    const tail = tails[follows];
    const isTooLow = follows === "below" ? tail < target : tail > target;
    if (isTooLow) low = x;
    else high = x;
    const next = newtonStep(shape, x, tail, target, follows);
    const kept = next > low && next < high ? next : high === Number.POSITIVE_INFINITY ? 2 * x + 1 : (low + high) / 2;
    if (Math.abs(kept - x) <= 1e-15 * x) return kept;
    x = kept;
  }
  return x;
}

/** In ln x for the lower tail, which is a power of x near 0; in x for the upper one, which falls like exp(-x). */
function newtonStep(shape: number, x: number, tail: number, target: number, side: "below" | "above"): number {
  const density = Math.exp(logPoissonDensity(shape, x)) * (shape / x);
  const shortfall = Math.log(target / tail);
  return side === "below" ? x * Math.exp((shortfall * tail) / (density * x)) : x - (shortfall * tail) / density;
}

/** Wilson & Hilferty (1931); for small shapes, where that can be negative, the leading power. */
function firstGuess(shape: number, level: number): number {
  const z = normal.quantile(level, 0, 1);
  const cube = 1 - 1 / (9 * shape) + z / (3 * Math.sqrt(shape));
  if (cube > 0.2) return shape * cube ** 3;
  return Math.exp((Math.log(level) + logGammaOfNext(shape)) / shape);
}

/** ln Gamma(shape + 1), from the density at mean 1: exp(-1) / Gamma(shape + 1). */
function logGammaOfNext(shape: number): number {
  return -1 - logPoissonDensity(shape, 1);
}
