import { chiSquareTail } from "./chi-square-tail";
import { findRoot } from "./find-root";
import { type LifeCount, pooledCounts } from "./life-counts";
import { fitWeibull, type WeibullFit } from "./weibull-fit";

export interface LikelihoodRatioTest {
  readonly statistic: number;
  readonly degreesOfFreedom: number;
  readonly p: number;
}

export interface WeibullComparison {
  readonly kind: "comparison";
  /** The shape all groups share if they share one; each group's scale at it, in the order of the groups given. */
  readonly commonShape: number;
  readonly scales: readonly number[];
  /** Against a shape for each group: do they age alike? */
  readonly equalShape: LikelihoodRatioTest;
  /** Against shape and scale for each group: are they the same distribution? */
  readonly equalDistribution: LikelihoodRatioTest;
}

export type WeibullComparisonRefusal = "fewer-than-two-groups" | "group-without-fit" | "no-common-shape";

/**
 * Answers: do groups differ in how they age (shape), or in their lives at all?
 *
 * Likelihood-ratio tests of nested fits: twice the difference of the maximal log likelihoods, chi-square with one degree a
 * parameter saved. Rough with few failures a group (about five or fewer): p-values then come out too small.
 * Refused where a group has no fit of its own. Source: Meeker & Escobar, Statistical Methods for Reliability Data (1998),
 * section 8.5; Lawless, Statistical Models and Methods for Lifetime Data (2003), section 5.4.
 */
export function compareWeibulls(
  groups: readonly (readonly LifeCount[])[],
): WeibullComparison | { readonly kind: "refused"; readonly reason: WeibullComparisonRefusal } {
  if (groups.length < 2) return { kind: "refused", reason: "fewer-than-two-groups" };
  const fits = groups.map((counts) => fitWeibull(counts)).filter((fit) => fit.kind === "fit");
  if (fits.length < groups.length) return { kind: "refused", reason: "group-without-fit" };
  const pooled = fitWeibull(pooledCounts(groups));
  const commonShape = sharedShape(fits);
  if (commonShape === null || pooled.kind !== "fit") return { kind: "refused", reason: "no-common-shape" };
  const apart = fits.reduce((sum, fit) => sum + fit.logLikelihood, 0);
  const together = fits.reduce((sum, { likelihood }) => sum + likelihood.profileLogLikelihood(commonShape), 0);
  return {
    kind: "comparison",
    commonShape,
    scales: fits.map(({ likelihood: { largestAge, exposure }, failures }) => {
      return largestAge * Math.exp(Math.log(exposure(commonShape).a / failures) / commonShape);
    }),
    equalShape: ratioTest(apart - together, groups.length - 1),
    equalDistribution: ratioTest(apart - pooled.logLikelihood, 2 * (groups.length - 1)),
  };
}

/** Where the slopes of the profile likelihoods add up to 0: it lies between the lowest and the highest of the shapes. */
function sharedShape(fits: readonly WeibullFit[]): number | null {
  const slope = (b: number) => fits.reduce((sum, { likelihood }) => sum + likelihood.profileSlope(b), 0);
  const shapes = fits.map(({ shape }) => shape);
  const [low, high] = [Math.min(...shapes) / 1.001, Math.max(...shapes) * 1.001];
  return slope(low) > 0 && slope(high) < 0 ? findRoot(slope, low, high) : null;
}

function ratioTest(gain: number, degreesOfFreedom: number): LikelihoodRatioTest {
  const statistic = Math.max(0, 2 * gain);
  return { statistic, degreesOfFreedom, p: chiSquareTail(statistic, degreesOfFreedom) };
}
