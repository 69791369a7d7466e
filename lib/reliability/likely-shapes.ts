import type { WeibullFit } from "@/lib/stats/weibull-fit";

/** A law as its failures leave it open: shapes with the weight of each, and what each says of the scale. */
export interface LikelyShapes {
  readonly failures: number;
  /** At each shape the units' sum of (exit / largest age)^shape - (entry / largest age)^shape. */
  readonly points: readonly { readonly shape: number; readonly weight: number; readonly exposure: number }[];
}

/** In standard deviations of ln shape; a smooth function is integrated by such steps to many digits (trapezoidal rule). */
const STEP = 0.5;
/** Where the likelihood has fallen by e to this power, a shape adds nothing any more. */
const FALLEN_BY = 20;
/** So many steps to either side at most: a likelihood that is still high there bounds no shape. */
const MOST_STEPS = 30;

/**
 * Answers: which shapes, and at each of them which scales, do the failures of a Weibull fit leave open?
 *
 * The likelihood itself, weighed over ln scale and sigma = 1 / shape as d mu d sigma / sigma, in which limits of a location and a
 * scale are right for complete samples of any size. Given the shape b, 1 / scale^b is then gamma with as many failures over A(b), so
 * that one variable is left. The large-sample normal distribution of both, which this stands in for, has far too long a tail upwards
 * with few failures: of 6 it foretold "3.2, between 0 and 43".
 * Source: Lawless, Statistical Models and Methods for Lifetime Data (1982), sections 4.1 and 4.2 (from memory).
 */
export function likelyShapes({ likelihood, shape, failures }: WeibullFit, varianceLogSigma: number): LikelyShapes {
  const step = STEP * Math.sqrt(varianceLogSigma);
  const heightAt = (at: number) => likelihood.profileLogLikelihood(at) - Math.log(at);
  const top = heightAt(shape);
  const points: { shape: number; weight: number; exposure: number }[] = [];
  for (const direction of [-1, 1]) {
    for (let i = direction === 1 ? 0 : 1; i <= MOST_STEPS; i++) {
      const at = shape * Math.exp(direction * i * step);
      const fallen = top - heightAt(at);
      if (!(fallen < FALLEN_BY)) break;
      points.push({ shape: at, weight: Math.exp(-fallen), exposure: likelihood.exposure(at).a });
    }
  }
  const all = points.reduce((sum, { weight }) => sum + weight, 0);
  return { failures, points: points.map((point) => ({ ...point, weight: point.weight / all })) };
}
