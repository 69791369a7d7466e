import { gammaQuantile } from "./incomplete-gamma";
import type { LifeCount } from "./life-counts";
import { poissonLimits } from "./poisson-limits";
import { weibullLikelihood } from "./weibull-likelihood";

export interface Weibayes {
  readonly shape: number;
  readonly failures: number;
  /** Age by which 63.2 % have failed; null without a failure: then only the lower limit is known. */
  readonly scale: number | null;
  /** One-sided lower limit of the scale at `confidence`. */
  readonly lowerOneSided: number;
  /** Two-sided limits at `confidence`; the upper one null without a failure. */
  readonly lower: number;
  readonly upper: number | null;
}

export type WeibayesResult = Weibayes | { readonly kind: "nothing-observed" };

/**
 * Answers: what do very few failures, or none, say about life, if the shape is known from like products?
 *
 * With the shape b given, the number of failures is Poisson with mean A(b) / scale^b, A(b) the sum over units of
 * exit^b - entry^b. So scale = (A / r)^(1/b), and limits follow from the exact limits of a Poisson count: the lower
 * one-sided limit is (2 A / chi-square on 2 r + 2)^(1/b). All rests on the shape: state it, and try others beside it.
 *
 * "nothing-observed" where no unit was watched at any age above 0. Domain: shape above 0, else a RangeError.
 * Source: AFWAL-TR-83-2079, Weibull Analysis Handbook (1983), chapter 6; IEC 61649 (2008) for the limits.
 */
export function weibayes(counts: readonly LifeCount[], shape: number, confidence = 0.95): WeibayesResult {
  if (!(shape > 0 && Number.isFinite(shape))) throw new RangeError(`shape must be above 0, got ${shape}`);
  const { failures, largestAge, exposure } = weibullLikelihood(counts);
  if (!(largestAge > 0)) return { kind: "nothing-observed" };
  const { a } = exposure(shape);
  const scaleAt = (meanFailures: number) => largestAge * (a / meanFailures) ** (1 / shape);
  const limits = poissonLimits(failures, confidence);
  return {
    shape,
    failures,
    scale: failures === 0 ? null : scaleAt(failures),
    lowerOneSided: scaleAt(gammaQuantile(failures + 1, 1 - confidence, "above")),
    lower: scaleAt(limits.upper),
    upper: failures === 0 ? null : scaleAt(limits.lower),
  };
}

/** Age by which the share has failed at this shape and scale: the B10 life for 0.1. */
export function lifeAtShare(shape: number, scale: number, share: number): number {
  return scale * (-Math.log1p(-share)) ** (1 / shape);
}
