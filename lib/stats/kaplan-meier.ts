import { type AgeSpan, type LifeCount, unobservedSpans } from "./life-counts";
import { twoSidedNormalQuantile } from "./normal-quantile";
import { type Limits, logLogLimits, upperLimitAfterAllFailed } from "./survival-limits";

/** The estimate from one failure age up to the next. */
export interface KaplanMeierStep {
  readonly age: number;
  readonly atRisk: number;
  readonly failures: number;
  /** Probability to live past `age`. */
  readonly survival: number;
  /** Greenwood standard error of `survival`; 0 where survival is 0 (its limit: read the limits there, not this). */
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  /** Nelson-Aalen: sum of failures / atRisk, and its variance, the sum of failures / atRisk^2. */
  readonly cumulativeHazard: number;
  readonly cumulativeHazardVariance: number;
}

export interface KaplanMeierCurve {
  readonly counts: readonly LifeCount[];
  readonly units: number;
  readonly failures: number;
  /** Age of the last exit: nothing is known beyond it. 0 for no units. */
  readonly lastAge: number;
  readonly confidence: number;
  /** One step per age with at least one failure, ages rising; empty for no failures. */
  readonly steps: readonly KaplanMeierStep[];
  /**
   * First age at which all units at risk failed although others were watched at higher ages, or null. Survival is 0
   * from there on whatever the others do, an artefact of a small early risk set under delayed entry.
   */
  readonly exhaustedAtAge: number | null;
  /** Ages before `lastAge` at which no unit was under observation. */
  readonly unobserved: readonly AgeSpan[];
}

/**
 * Answers: which share of units lives past each age, when some are still running and some were first seen late?
 *
 * Product-limit estimate S(t) = product over failure ages up to t of (1 - d / n), n the units with entry < age <= exit;
 * Greenwood standard error; log-log limits; Nelson-Aalen cumulative hazard beside it.
 * Assumes that leaving observation (data date, end of cover) and late entry have nothing to do with being about to fail.
 * Not for several competing kinds of failure: one minus this curve overstates each of them.
 *
 * @param counts from a life tally: distinct ages, rising.
 * @param confidence of the two-sided limits, between 0 and 1.
 * No units or no failures: no steps. At survival 0 the limits are 0 and what `upperLimitAfterAllFailed` says: never NaN.
 * Sources: Kaplan & Meier, JASA 53 (1958) 457-481; Greenwood, Rep. Publ. Health Med. Subj. 33 (1926); Aalen, Ann.
 * Statist. 6 (1978) 701-726; delayed entry: Klein & Moeschberger, Survival Analysis (2003), section 4.6.
 */
export function kaplanMeier(counts: readonly LifeCount[], confidence = 0.95): KaplanMeierCurve {
  const z = twoSidedNormalQuantile(confidence);
  const steps: KaplanMeierStep[] = [];
  const lastAge = counts.at(-1)?.age ?? 0;
  let units = 0;
  let totalFailures = 0;
  let atRisk = 0;
  let survival = 1;
  // Kept beside the product: near 1 the logarithm of a product has lost the digits that the limits need.
  let logSurvival = 0;
  let greenwoodSum = 0;
  let cumulativeHazard = 0;
  let cumulativeHazardVariance = 0;
  let previousUpper: number | null = null;
  let exhaustedAtAge: number | null = null;

  for (const { age, entered, failed, censored } of counts) {
    if (failed > 0) {
      survival *= (atRisk - failed) / atRisk;
      logSurvival += Math.log1p(-failed / atRisk);
      greenwoodSum += failed / (atRisk * (atRisk - failed));
      cumulativeHazard += failed / atRisk;
      cumulativeHazardVariance += failed / atRisk ** 2;
      const limits: Limits =
        survival > 0
          ? logLogLimits(logSurvival, greenwoodSum, z)
          : { lower: 0, upper: upperLimitAfterAllFailed(previousUpper, atRisk, confidence) };
      previousUpper = limits.upper;
      if (failed === atRisk && age < lastAge) exhaustedAtAge ??= age;
      const standardError = survival > 0 ? survival * Math.sqrt(greenwoodSum) : 0;
      steps.push({
        age,
        atRisk,
        failures: failed,
        survival,
        standardError,
        ...limits,
        cumulativeHazard,
        cumulativeHazardVariance,
      });
    }
    units += entered;
    totalFailures += failed;
    atRisk += entered - failed - censored;
  }
  const unobserved = unobservedSpans(counts);
  return { counts, units, failures: totalFailures, lastAge, confidence, steps, exhaustedAtAge, unobserved };
}
