import { findRoot } from "./find-root";
import type { LifeCount } from "./life-counts";
import { type WeibullLikelihood, weibullLikelihood } from "./weibull-likelihood";

export interface WeibullFit {
  readonly kind: "fit";
  readonly failures: number;
  /** Below 1 the hazard falls with age, at 1 it is constant, above 1 it rises. */
  readonly shape: number;
  /** Age by which 63.2 % have failed, in the unit of the ages. */
  readonly scale: number;
  /** With densities per unit of age. */
  readonly logLikelihood: number;
  readonly likelihood: WeibullLikelihood;
}

export type WeibullRefusal =
  | "no-failures"
  | "one-failure"
  | "failures-only-at-largest-age"
  | "early-ages-unobserved"
  | "limits-unbounded";

/** Two parameters cannot be learnt from one failure. Engineering default, no authority. */
const FEWEST_FAILURES = 2;
/** Shapes searched: powers of two from 1/1024 to 1024; real units lie between about 0.2 and 20. */
const LARGEST_DOUBLINGS = 10;

/**
 * Fits a Weibull distribution to lives that may be still running and may have been first seen late.
 *
 * Maximum likelihood: the shape is where the slope of the profile likelihood is 0, the scale follows from it. Without
 * late entries the slope falls throughout, so there is one such shape; with them there can be several, and the likeliest
 * is taken. Assumes one cause of failure in one kind of unit: check the fit against the Kaplan-Meier curve.
 *
 * Refused: no failure or one; all failures at the largest age of all (the shape would grow without end); late entries
 * that leave the likelihood rising towards shape 0.
 * Sources: NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.2 and 8.4.1.3; Meeker & Escobar, Statistical Methods
 * for Reliability Data (1998), chapters 8 and 11.6.
 */
export function fitWeibull(counts: readonly LifeCount[]): WeibullFit | { kind: "refused"; reason: WeibullRefusal } {
  const likelihood = weibullLikelihood(counts);
  const { failures } = likelihood;
  if (failures === 0) return { kind: "refused", reason: "no-failures" };
  if (failures < FEWEST_FAILURES) return { kind: "refused", reason: "one-failure" };
  // Each failure adds the logarithm of its age over the largest age, so the sum is 0 only if all are there.
  if (likelihood.logAgeSum === 0) return { kind: "refused", reason: "failures-only-at-largest-age" };

  const hasLateEntries = counts.some(({ age, entered }) => age > 0 && entered > 0);
  const shape = likeliestShape(likelihood, hasLateEntries);
  if (shape === null) {
    const isRising = likelihood.profileSlope(2 ** LARGEST_DOUBLINGS) > 0;
    return { kind: "refused", reason: isRising ? "failures-only-at-largest-age" : "early-ages-unobserved" };
  }
  return {
    kind: "fit",
    failures,
    shape,
    scale: bestScale(likelihood, shape),
    logLikelihood: likelihood.profileLogLikelihood(shape),
    likelihood,
  };
}

/** What is asked of a likelihood to find its shape. */
export type ShapeProfile = Pick<WeibullLikelihood, "profileSlope" | "profileLogLikelihood">;

/** The shape at which a profile likelihood is greatest; null where it has no summit. Late entries may give it several. */
export function likeliestShape(profile: ShapeProfile, hasLateEntries: boolean): number | null {
  const [first, ...others] = hasLateEntries ? allSummits(profile) : oneSummit(profile);
  if (first === undefined) return null;
  const height = (shape: number) => profile.profileLogLikelihood(shape);
  return others.reduce((best, other) => (height(other) > height(best) ? other : best), first);
}

/** The scale that goes with a shape: its power is exposure over failures. */
export function bestScale({ exposure, failures, largestAge }: WeibullLikelihood, shape: number): number {
  return largestAge * Math.exp(Math.log(exposure(shape).a / failures) / shape);
}

/** The slope falls throughout: step from shape 1 towards the change of sign. */
function oneSummit({ profileSlope }: ShapeProfile): number[] {
  const factor = profileSlope(1) > 0 ? 2 : 0.5;
  for (let near = 1, i = 0; i < LARGEST_DOUBLINGS; i++, near *= factor) {
    const far = near * factor;
    if (profileSlope(far) > 0 !== factor > 1) return [findRoot(profileSlope, Math.min(near, far), Math.max(near, far))];
  }
  return [];
}

function allSummits({ profileSlope }: ShapeProfile): number[] {
  const shapes: number[] = [];
  let low = 2 ** -LARGEST_DOUBLINGS;
  let isRisingAtLow = profileSlope(low) > 0;
  for (let doublings = 1 - LARGEST_DOUBLINGS; doublings <= LARGEST_DOUBLINGS; doublings++) {
    const high = 2 ** doublings;
    const isRisingAtHigh = profileSlope(high) > 0;
    if (isRisingAtLow && !isRisingAtHigh) shapes.push(findRoot(profileSlope, low, high));
    low = high;
    isRisingAtLow = isRisingAtHigh;
  }
  return shapes;
}
