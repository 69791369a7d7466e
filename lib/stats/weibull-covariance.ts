import type { WeibullFit } from "./weibull-fit";

/** Of the estimates of mu = ln scale and ln sigma = -ln shape, in which the likelihood is nearest to normal. */
export interface WeibullCovariance {
  readonly varianceMu: number;
  readonly varianceLogSigma: number;
  readonly covariance: number;
}

/**
 * Large-sample covariance of a Weibull fit: the inverse of the observed information at the estimate.
 * With x = ln age - mu and G1, G2 the sums of x e^(bx), x^2 e^(bx) over exits minus entries, the information is
 * [b^2 r, b^2 G1; b^2 G1, r + b^2 G2]. Source: Meeker & Escobar (1998), section 8.4 and appendix B.
 */
export function weibullCovariance({
  likelihood,
  failures,
  shape,
  scale,
}: Pick<WeibullFit, "likelihood" | "failures" | "shape" | "scale">): WeibullCovariance {
  const { a, a1, a2 } = likelihood.exposure(shape);
  const shift = Math.log(likelihood.largestAge / scale);
  const g1 = (failures / a) * (a1 + shift * a);
  const g2 = (failures / a) * (a2 + 2 * shift * a1 + shift * shift * a);
  const b2 = shape * shape;
  const [infoMu, infoLogSigma, infoBoth] = [b2 * failures, failures + b2 * g2, b2 * g1];
  const determinant = infoMu * infoLogSigma - infoBoth * infoBoth;
  return {
    varianceMu: infoLogSigma / determinant,
    varianceLogSigma: infoMu / determinant,
    covariance: -infoBoth / determinant,
  };
}
