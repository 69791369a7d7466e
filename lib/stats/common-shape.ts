import type { LifeCount } from "./life-counts";
import type { Limits } from "./survival-limits";
import { weibullCovariance } from "./weibull-covariance";
import { bestScale, likeliestShape, type ShapeProfile } from "./weibull-fit";
import { weibullLikelihood } from "./weibull-likelihood";
import { shapeLimits } from "./weibull-limits";

/** One Weibull shape for several groups, each of a scale of its own. */
export interface CommonShape {
  /** Of all groups. */
  readonly failures: number;
  readonly shape: number;
  /** Large-sample variance of -ln shape. */
  readonly varianceLogSigma: number;
  /** Likelihood-ratio limits at 95 %; null where the data set none. */
  readonly limits: Limits | null;
}

/**
 * Answers: how does the hazard change with age within these groups, if it does alike in all and they differ in how great it is? Groups of unlike
 * rate put together look as if the hazard fell with age; here they are held apart.
 *
 * The profile log likelihoods of the groups add up, each at the best scale of its own, so that it is one variable however many groups
 * there are. Null where no group has failures, or where they bound no shape. Ages in one unit.
 * Source: Meeker & Escobar, Statistical Methods for Reliability Data (1998), sections 8.3 and 17.3 (a location for each group,
 * one sigma for all); R's survreg with a factor fits the same.
 */
export function fitCommonShape(groups: readonly (readonly LifeCount[])[]): CommonShape | null {
  const likelihoods = groups.map(weibullLikelihood).filter(({ failures }) => failures > 0);
  const failures = likelihoods.reduce((sum, one) => sum + one.failures, 0);
  if (failures === 0 || likelihoods.every(({ logAgeSum }) => logAgeSum === 0)) return null;
  const profile: ShapeProfile = {
    profileSlope: (shape) => likelihoods.reduce((sum, one) => sum + one.profileSlope(shape), 0),
    profileLogLikelihood: (shape) => likelihoods.reduce((sum, one) => sum + one.profileLogLikelihood(shape), 0),
  };
  const hasLateEntries = groups.some((counts) => counts.some(({ age, entered }) => age > 0 && entered > 0));
  const shape = likeliestShape(profile, hasLateEntries);
  if (shape === null) return null;
  // Scales of different groups share no information, so what each says of the shape adds up.
  const information = likelihoods.reduce((sum, likelihood) => {
    const fit = { likelihood, failures: likelihood.failures, shape, scale: bestScale(likelihood, shape) };
    return sum + 1 / weibullCovariance(fit).varianceLogSigma;
  }, 0);
  return { failures, shape, varianceLogSigma: 1 / information, limits: shapeLimits(profile, shape) };
}
