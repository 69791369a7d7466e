import { findRoot } from "./find-root";
import { twoSidedNormalQuantile } from "./normal-quantile";
import type { Limits } from "./survival-limits";
import { weibullCovariance } from "./weibull-covariance";
import type { ShapeProfile, WeibullFit } from "./weibull-fit";

/** Shapes this many doublings away from the estimate count as "no limit". */
const LARGEST_DOUBLINGS = 10;
/** Each step of the golden section shortens the bracket to 0.618 of it: 40 leave 4e-9, its square in the result. */
const GOLDEN_STEPS = 40;
const GOLDEN_RATIO = (Math.sqrt(5) - 1) / 2;

/**
 * Two-sided likelihood-ratio limits for shape and scale: all pairs whose log likelihood is within half a chi-square
 * quantile (1 degree of freedom) of the best, projected on each axis. They hold far better with few failures than the
 * estimate plus or minus standard errors. Null where the data set no limit on one side.
 *
 * With w = A(b) / (r s^b) the log likelihood is profile(b) - r (w - 1 - ln w), so for each shape the scales inside
 * follow from w - 1 - ln w <= drop / r without a second search.
 * Source: Meeker & Escobar, Statistical Methods for Reliability Data (1998), section 8.3.
 */
export function weibullLimits(fit: WeibullFit, confidence = 0.95): { shape: Limits; scale: Limits } | null {
  const region = likelihoodRegion(fit, confidence);
  if (region === null) return null;
  const scale = exponential(projected(region, (_, logScale) => logScale));
  return Number.isFinite(scale.upper) ? { shape: region.shape, scale } : null;
}

export interface LifeLimits extends Limits {
  readonly age: number;
  /** The estimate times or over exp(z standard errors of its logarithm): what many programs print; too short with few. */
  readonly wald: Limits;
}

/**
 * Answers: by which age has the given share failed (0.1 for the B10 life), and between which limits?
 *
 * Likelihood-ratio limits: the same region of shape and scale, projected on ln scale + ln(-ln(1 - share)) / shape. Null where
 * the data set none. Domain: share between 0 and 1, else a RangeError.
 * Source: Meeker & Escobar, Statistical Methods for Reliability Data (1998), sections 8.3.3 and 8.4.3.
 */
export function weibullLife(fit: WeibullFit, share: number, confidence = 0.95): LifeLimits | null {
  if (!(share > 0 && share < 1)) throw new RangeError(`share must lie between 0 and 1, got ${share}`);
  const logExposure = Math.log(-Math.log1p(-share));
  const region = likelihoodRegion(fit, confidence);
  if (region === null) return null;
  const limits = exponential(projected(region, (b, logScale) => logScale + logExposure / b));
  if (!Number.isFinite(limits.upper)) return null;
  const age = fit.scale * Math.exp(logExposure / fit.shape);
  const { varianceMu, varianceLogSigma, covariance } = weibullCovariance(fit);
  const reach = logExposure / fit.shape;
  const variance = varianceMu + 2 * reach * covariance + reach * reach * varianceLogSigma;
  const spread = Math.exp(twoSidedNormalQuantile(confidence) * Math.sqrt(variance));
  return { age, ...limits, wald: { lower: age / spread, upper: age * spread } };
}

/**
 * Share failed by an age according to the fit, with likelihood-ratio limits; null where the data set none.
 * Domain: age above 0, else a RangeError. Source: as for `weibullLife`.
 */
export function weibullFailed(
  fit: WeibullFit,
  age: number,
  confidence = 0.95,
): (Limits & { readonly failed: number }) | null {
  if (!(age > 0)) throw new RangeError(`age must be above 0, got ${age}`);
  const region = likelihoodRegion(fit, confidence);
  if (region === null) return null;
  const { lower, upper } = projected(region, (b, logScale) => -b * (Math.log(age) - logScale));
  const failedAt = (minusLogHazard: number) => -Math.expm1(-Math.exp(-minusLogHazard));
  const failed = failedAt(-fit.shape * Math.log(age / fit.scale));
  return { failed, lower: failedAt(upper), upper: failedAt(lower) };
}

interface LikelihoodRegion {
  readonly shape: Limits;
  /** Logarithm of the outermost scale inside the region at a shape. */
  logScale(b: number, side: "lower" | "upper"): number;
}

/** Two-sided likelihood-ratio limits of a shape alone, given the shape at the summit of its profile; null where the data set none. */
export function shapeLimits(
  { profileLogLikelihood }: Pick<ShapeProfile, "profileLogLikelihood">,
  shape: number,
  confidence = 0.95,
): Limits | null {
  const least = profileLogLikelihood(shape) - twoSidedNormalQuantile(confidence) ** 2 / 2;
  const spare = (b: number) => profileLogLikelihood(b) - least;
  const lower = outwards(spare, shape, 0.5);
  const upper = outwards(spare, shape, 2);
  return lower === null || upper === null ? null : { lower, upper };
}

function likelihoodRegion(fit: WeibullFit, confidence: number): LikelihoodRegion | null {
  const { likelihood, failures, shape, logLikelihood } = fit;
  const allowance = twoSidedNormalQuantile(confidence) ** 2 / 2;
  const spare = (b: number) => likelihood.profileLogLikelihood(b) - logLikelihood + allowance;
  const ofShape = shapeLimits(likelihood, shape, confidence);
  if (ofShape === null) return null;
  return {
    shape: ofShape,
    logScale(b, side) {
      const logW = logExcessRoot(Math.max(0, spare(b)) / failures, side === "upper" ? -1 : 1);
      return Math.log(likelihood.largestAge) + (Math.log(likelihood.exposure(b).a / failures) - logW) / b;
    },
  };
}

/** Smallest and largest value over the region of something that grows with the scale. */
function projected({ shape, logScale }: LikelihoodRegion, value: (b: number, logScale: number) => number): Limits {
  return {
    lower: -goldenMaximum((b) => -value(b, logScale(b, "lower")), shape.lower, shape.upper),
    upper: goldenMaximum((b) => value(b, logScale(b, "upper")), shape.lower, shape.upper),
  };
}

function exponential({ lower, upper }: Limits): Limits {
  return { lower: Math.exp(lower), upper: Math.exp(upper) };
}

function outwards(spare: (b: number) => number, start: number, factor: number): number | null {
  for (let near = start, i = 0; i < LARGEST_DOUBLINGS; i++, near *= factor) {
    const far = near * factor;
    if (spare(far) < 0) return findRoot(spare, Math.min(near, far), Math.max(near, far));
  }
  return null;
}

/** ln w on the given side of 0 with w - 1 - ln w = drop. Newton from outside: the function is convex, so no overshoot. */
function logExcessRoot(drop: number, side: -1 | 1): number {
  if (drop === 0) return 0;
  let v = side < 0 ? -(1 + drop) : Math.sqrt(2 * drop);
  for (let i = 0; i < 100; i++) {
    const next = v - (Math.expm1(v) - v - drop) / Math.expm1(v);
    if (next === v || Math.abs(next) >= Math.abs(v)) return v;
    v = next;
  }
  return v;
}

/** Largest value of a function with one summit between two points. */
function goldenMaximum(f: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  let left = b - GOLDEN_RATIO * (b - a);
  let right = a + GOLDEN_RATIO * (b - a);
  let [fLeft, fRight] = [f(left), f(right)];
  for (let i = 0; i < GOLDEN_STEPS; i++) {
    if (fLeft > fRight) {
      [b, right, fRight] = [right, left, fLeft];
      left = b - GOLDEN_RATIO * (b - a);
      fLeft = f(left);
    } else {
      [a, left, fLeft] = [left, right, fRight];
      right = a + GOLDEN_RATIO * (b - a);
      fRight = f(right);
    }
  }
  return Math.max(fLeft, fRight);
}
