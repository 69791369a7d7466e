import type { LifeCount } from "./life-counts";

/**
 * The censored, left-truncated Weibull likelihood of one group, reduced to what a fit asks of it.
 *
 * With shape b and scale s, log L = r ln b - r b ln s + (b - 1) sum ln t - A(b) / s^b, where r failures at ages t and
 * A(b) = sum over exits of age^b minus sum over entries of age^b. For a given b the best scale has s^b = A(b) / r.
 * Ages are divided by the largest one inside, so that age^b neither overflows nor is lost.
 */
export interface WeibullLikelihood {
  readonly failures: number;
  readonly largestAge: number;
  /** Sum over failures of ln(age / largestAge): 0 or less. */
  readonly logAgeSum: number;
  /** A(b) and its first two derivatives by b, for ages over the largest one. */
  exposure(shape: number): { readonly a: number; readonly a1: number; readonly a2: number };
  /** Slope of the profile log likelihood by shape: r / b + sum ln t - r A'(b) / A(b). */
  profileSlope(shape: number): number;
  /** Log likelihood at this shape with its best scale; densities are per unit of age, not of log age. */
  profileLogLikelihood(shape: number): number;
}

export function weibullLikelihood(counts: readonly LifeCount[]): WeibullLikelihood {
  const largestAge = counts.at(-1)?.age ?? 0;
  // Entries at age 0 contribute 0^b = 0 at every shape.
  const terms = counts
    .filter(({ age }) => age > 0)
    .map(({ age, entered, failed, censored }) => ({
      logAge: Math.log(age / largestAge),
      weight: failed + censored - entered,
      failed,
    }));
  let failures = 0;
  let logAgeSum = 0;
  for (const { logAge, failed } of terms) {
    failures += failed;
    logAgeSum += failed * logAge;
  }

  function exposure(shape: number) {
    let a = 0;
    let a1 = 0;
    let a2 = 0;
    for (const { logAge, weight } of terms) {
      const power = weight * Math.exp(shape * logAge);
      a += power;
      a1 += power * logAge;
      a2 += power * logAge * logAge;
    }
    return { a, a1, a2 };
  }

  return {
    failures,
    largestAge,
    logAgeSum,
    exposure,
    profileSlope(shape) {
      const { a, a1 } = exposure(shape);
      return failures / shape + logAgeSum - (failures * a1) / a;
    },
    profileLogLikelihood(shape) {
      const { a } = exposure(shape);
      const perAge = failures * (Math.log(shape) - Math.log(a / failures)) + (shape - 1) * logAgeSum - failures;
      return perAge - failures * Math.log(largestAge);
    },
  };
}
