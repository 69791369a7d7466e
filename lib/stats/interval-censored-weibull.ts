import { findRoot } from "./find-root";
import { newtonMaximum, type Slopes, type Summit } from "./newton-maximum";
import { twoSidedNormalQuantile } from "./normal-quantile";
import type { Limits } from "./survival-limits";

/** A unit of which only the inspections around its failure are known, or several equal ones. */
export interface IntervalLife {
  /** Last age at which it was seen working; 0 where it was found failed at the first look. */
  readonly after: number;
  /** First age at which it was seen failed, null for still working; equal to `after` where the age is known exactly. */
  readonly by: number | null;
  /** Age at which it came under observation; 0 where missing. */
  readonly entry?: number;
  readonly count?: number;
}

export interface IntervalWeibull {
  readonly kind: "fit";
  readonly failures: number;
  readonly shape: number;
  readonly scale: number;
  readonly logLikelihood: number;
  /** By likelihood ratio; null where the data set no limit. */
  readonly shapeLimits: Limits | null;
  /** Age by which a share has failed, with limits of plus and minus standard errors of its logarithm. */
  life(share: number): Limits & { readonly age: number };
}

/** Shapes beyond these powers of e from the estimate count as "no limit". */
const LARGEST_LOG_SHAPE_CHANGE = 6;
/** A variance of ln shape above this (a factor of 20,000 either way) is a likelihood that has gone flat, not a maximum. */
const LARGEST_VARIANCE = 100;

/**
 * Fits a Weibull distribution where failures are known only to lie between two looks: monthly read-outs, services.
 *
 * Maximum likelihood of ln(S(after) - S(by)) for failures, ln S(after) for the running, ln f for exact ages, less ln S(entry)
 * for late entries, in mu = ln scale and ln sigma = -ln shape. Taking the middle of the interval, or the day of the look, for
 * the age biases the shape upwards where intervals are long.
 *
 * "refused" for no failure or where no maximum is reached (all failures in one interval, say).
 * Domain: 0 <= entry <= after <= by, else a RangeError. Source: Meeker & Escobar, Statistical Methods for Reliability Data
 * (1998), sections 7.3 and 8.2; Nelson, Applied Life Data Analysis (1982), chapter 9.
 */
export function fitIntervalWeibull(
  lives: readonly IntervalLife[],
  confidence = 0.95,
): IntervalWeibull | { readonly kind: "refused"; readonly reason: "no-failures" | "no-maximum" } {
  for (const { after, by, entry = 0 } of lives)
    if (!(entry >= 0 && after >= entry && (by === null || (by >= after && by > 0))))
      throw new RangeError(`a life must have 0 <= entry <= after <= by, got ${entry}, ${after}, ${by}`);
  const failed = lives.filter(({ by }) => by !== null);
  if (failed.length === 0) return { kind: "refused", reason: "no-failures" };
  const likelihood = (mu: number, logSigma: number) => sumSlopes(lives, mu, logSigma);
  const middles = failed.map(({ after, by }) => Math.log((after + (by ?? after)) / 2));
  const best = newtonMaximum(([mu = 0, logSigma = 0]) => likelihood(mu, logSigma), [Math.max(...middles) + 1, 0]);
  if (best === null || !((best.covariance[1]?.[1] ?? 0) < LARGEST_VARIANCE))
    return { kind: "refused", reason: "no-maximum" };
  const [mu = 0, logSigma = 0] = best.at;
  const [sigma, z] = [Math.exp(logSigma), twoSidedNormalQuantile(confidence)];
  return {
    kind: "fit",
    failures: failed.reduce((sum, { count = 1 }) => sum + count, 0),
    shape: 1 / sigma,
    scale: Math.exp(mu),
    logLikelihood: best.value,
    shapeLimits: shapeLimits(likelihood, best, (z * z) / 2),
    life(share) {
      const reach = Math.log(-Math.log1p(-share)) * sigma;
      const [[muMu = 0, muSigma = 0] = [], [, sigmaSigma = 0] = []] = best.covariance;
      const error = Math.sqrt(muMu + 2 * reach * muSigma + reach * reach * sigmaSigma);
      const log = mu + reach;
      return { age: Math.exp(log), lower: Math.exp(log - z * error), upper: Math.exp(log + z * error) };
    },
  };
}

function shapeLimits(
  likelihood: (mu: number, logSigma: number) => Slopes,
  { at: [mu = 0, logSigma = 0], value }: Summit,
  allowance: number,
): Limits | null {
  let nearMu = mu;
  function spare(s: number): number {
    const profile = newtonMaximum(
      ([m = 0]) => {
        const slopes = likelihood(m, s);
        return { value: slopes.value, gradient: slopes.gradient.slice(0, 1) };
      },
      [nearMu],
    );
    if (profile === null) return Number.NEGATIVE_INFINITY;
    nearMu = profile.at[0] ?? nearMu;
    return profile.value - value + allowance;
  }
  function outwards(direction: -1 | 1): number | null {
    nearMu = mu;
    for (let change = 0.25; change <= LARGEST_LOG_SHAPE_CHANGE; change += 0.25) {
      const end = logSigma + direction * change;
      const at = spare(end);
      if (at === Number.NEGATIVE_INFINITY) return null;
      if (at < 0) return findRoot(spare, end - direction * 0.25, end);
    }
    return null;
  }
  const [low, high] = [outwards(1), outwards(-1)];
  return low === null || high === null ? null : { lower: Math.exp(-low), upper: Math.exp(-high) };
}

/** Log likelihood by mu and ln sigma. */
function sumSlopes(lives: readonly IntervalLife[], mu: number, logSigma: number): Slopes {
  const sigma = Math.exp(logSigma);
  const at = (age: number) => (Math.log(age) - mu) / sigma;
  let [value, byMu, byLogSigma] = [0, 0, 0];
  for (const { after, by, entry = 0, count = 1 } of lives) {
    if (entry > 0) {
      const z = at(entry);
      const hazard = Math.exp(z);
      value += count * hazard;
      byMu -= (count * hazard) / sigma;
      byLogSigma -= count * hazard * z;
    }
    const z = at(after);
    const hazard = after > 0 ? Math.exp(z) : 0;
    if (by === null) {
      value -= count * hazard;
      byMu += (count * hazard) / sigma;
      byLogSigma += after > 0 ? count * hazard * z : 0;
    } else if (by === after) {
      value += count * (z - hazard - logSigma - Math.log(after));
      byMu += (count * (hazard - 1)) / sigma;
      byLogSigma += count * (z * (hazard - 1) - 1);
    } else {
      const zBy = at(by);
      const hazardBy = Math.exp(zBy);
      // ln(S(after) - S(by)) = -hazard + ln(1 - exp(hazard - hazardBy)), kept exact for short intervals.
      const inside = -Math.expm1(hazard - hazardBy);
      const weight = Math.exp(hazard - hazardBy) / inside;
      value += count * (Math.log(inside) - hazard);
      byMu += (count * (hazard / inside - weight * hazardBy)) / sigma;
      byLogSigma += count * ((after > 0 ? (hazard * z) / inside : 0) - weight * hazardBy * zBy);
    }
  }
  return { value, gradient: [byMu, byLogSigma] };
}
