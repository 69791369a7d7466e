import { findRoot } from "./find-root";
import { twoSidedNormalQuantile } from "./normal-quantile";
import type { Limits } from "./survival-limits";
import type { WeibullFit } from "./weibull-fit";

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
  const { likelihood, failures, shape, logLikelihood } = fit;
  const allowance = twoSidedNormalQuantile(confidence) ** 2 / 2;
  const spare = (b: number) => likelihood.profileLogLikelihood(b) - logLikelihood + allowance;

  const lower = outwards(spare, shape, 0.5);
  const upper = outwards(spare, shape, 2);
  if (lower === null || upper === null) return null;

  /** Logarithm of the outermost scale over the largest age inside the region at this shape. */
  function logScale(b: number, side: "lower" | "upper"): number {
    const logW = logExcessRoot(Math.max(0, spare(b)) / failures, side === "upper" ? -1 : 1);
    return (Math.log(likelihood.exposure(b).a / failures) - logW) / b;
  }
  const lowest = -goldenMaximum((b) => -logScale(b, "lower"), lower, upper);
  const highest = goldenMaximum((b) => logScale(b, "upper"), lower, upper);
  const scale = { lower: likelihood.largestAge * Math.exp(lowest), upper: likelihood.largestAge * Math.exp(highest) };
  return Number.isFinite(scale.upper) ? { shape: { lower, upper }, scale } : null;
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
