import digamma from "@stdlib/math-base-special-digamma";
import gammaln from "@stdlib/math-base-special-gammaln";
import { chiSquareTail } from "./chi-square-tail";
import { gammaQuantile } from "./incomplete-gamma";
import { newtonMaximum, type Slopes } from "./newton-maximum";
import type { Limits } from "./survival-limits";

export interface CountOverExposure {
  readonly count: number;
  readonly exposure: number;
}

export interface ShrunkenRate extends Limits {
  /** count / exposure as it is. */
  readonly raw: number;
  /** (shape + count) / (rate + exposure): drawn towards the mean of all, the more the less the exposure says. */
  readonly shrunken: number;
}

export interface EmpiricalBayes {
  readonly kind: "fit";
  /** Of the gamma distribution of the true rates among the members. */
  readonly shape: number;
  readonly rate: number;
  readonly logLikelihood: number;
  /** In the order of the members given, with credible limits. */
  readonly rates: readonly ShrunkenRate[];
}

export type EmpiricalBayesRefusal = "fewer-than-three-members" | "no-events" | "no-spread-beyond-chance";

/**
 * Answers: which of many small members (revisions, lots, dealers) has the worst rate, when the extremes are mostly chance?
 *
 * Gamma-Poisson model: true rates are gamma(shape, rate), counts Poisson given them; shape and rate by maximum likelihood
 * of the negative binomial counts, then each member's posterior mean and equal-tailed credible limits. The limits take
 * shape and rate as known, so with few members they are somewhat short.
 *
 * "no-spread-beyond-chance" where the likelihood grows without end as the spread of true rates goes to 0: nothing tells the
 * members apart, so rank none. Domain: whole counts from 0, exposures above 0, else a RangeError.
 * Source: Gaver & O'Muircheartaigh, Technometrics 29 (1987) 1-15; Robbins (1956) for the idea.
 */
export function empiricalBayesRates(
  members: readonly CountOverExposure[],
  confidence = 0.95,
): EmpiricalBayes | { readonly kind: "refused"; readonly reason: EmpiricalBayesRefusal } {
  checkMembers(members);
  if (members.length < 3) return { kind: "refused", reason: "fewer-than-three-members" };
  const events = sum(members.map(({ count }) => count));
  if (events === 0) return { kind: "refused", reason: "no-events" };
  const pooled = events / sum(members.map(({ exposure }) => exposure));
  // In ln shape and ln of the mean rate, which the data tell apart, rather than ln rate.
  const best = newtonMaximum((x) => slopes(members, x), [0, Math.log(pooled)]);
  const [logShape = 0, logMean = 0] = best?.at ?? [];
  if (best === null || logShape > Math.log(LARGEST_SHAPE))
    return { kind: "refused", reason: "no-spread-beyond-chance" };
  const shape = Math.exp(logShape);
  const rate = shape / Math.exp(logMean);
  const tail = (1 - confidence) / 2;
  return {
    kind: "fit",
    shape,
    rate,
    logLikelihood: best.value,
    rates: members.map(({ count, exposure }) => ({
      raw: count / exposure,
      shrunken: (shape + count) / (rate + exposure),
      lower: gammaQuantile(shape + count, tail) / (rate + exposure),
      upper: gammaQuantile(shape + count, tail, "above") / (rate + exposure),
    })),
  };
}

/** A standard deviation of true rates below a thousandth of their mean is no spread anybody can act on. */
const LARGEST_SHAPE = 1e6;

function slopes(members: readonly CountOverExposure[], [logShape = 0, logMean = 0]: readonly number[]): Slopes {
  const shape = Math.exp(logShape);
  const mean = Math.exp(logMean);
  let [value, byShape, byMean] = [0, 0, 0];
  for (const { count: x, exposure } of members) {
    const expected = mean * exposure;
    value += gammaln(shape + x) - gammaln(shape) - gammaln(x + 1) - shape * Math.log1p(expected / shape);
    if (x > 0) value += x * Math.log(expected / (shape + expected));
    byShape += digamma(shape + x) - digamma(shape) - Math.log1p(expected / shape) + (expected - x) / (shape + expected);
    byMean += (shape * (x - expected)) / (shape + expected);
  }
  return { value, gradient: [shape * byShape, byMean] };
}

export interface Homogeneity {
  readonly pooledRate: number;
  readonly degreesOfFreedom: number;
  /** Pearson: sum (count - expected)^2 / expected. */
  readonly chiSquare: number;
  readonly p: number;
  /** Likelihood ratio: 2 sum count ln(count / expected). */
  readonly likelihoodRatio: number;
  readonly likelihoodRatioP: number;
}

/**
 * Answers: could all members have one and the same event rate? Chi-square tests on members - 1 degrees of freedom; rough
 * where expected counts are below about 5. Null for fewer than two members or no events.
 * Source: Cox & Lewis, The Statistical Analysis of Series of Events (1966), section 9.3.
 */
export function poissonHomogeneity(members: readonly CountOverExposure[]): Homogeneity | null {
  checkMembers(members);
  const events = sum(members.map(({ count }) => count));
  if (members.length < 2 || events === 0) return null;
  const pooledRate = events / sum(members.map(({ exposure }) => exposure));
  const expected = (exposure: number) => pooledRate * exposure;
  const chiSquare = sum(members.map(({ count, exposure }) => (count - expected(exposure)) ** 2 / expected(exposure)));
  const terms = members.map(({ count, exposure }) => (count > 0 ? count * Math.log(count / expected(exposure)) : 0));
  const likelihoodRatio = Math.max(0, 2 * sum(terms));
  const degreesOfFreedom = members.length - 1;
  return {
    pooledRate,
    degreesOfFreedom,
    chiSquare,
    p: chiSquareTail(chiSquare, degreesOfFreedom),
    likelihoodRatio,
    likelihoodRatioP: chiSquareTail(likelihoodRatio, degreesOfFreedom),
  };
}

function checkMembers(members: readonly CountOverExposure[]): void {
  for (const { count, exposure } of members) {
    if (!Number.isSafeInteger(count) || count < 0) throw new RangeError(`count must be whole from 0, got ${count}`);
    if (!(exposure > 0 && Number.isFinite(exposure))) throw new RangeError(`exposure must be above 0, got ${exposure}`);
  }
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
