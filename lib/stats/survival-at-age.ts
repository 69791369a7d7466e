import type { KaplanMeierCurve, KaplanMeierStep } from "./kaplan-meier";
import { atRiskAt, fewestAtRiskUpTo } from "./life-counts";
import { lowerLimitWithoutFailures } from "./survival-limits";

export type SurvivalAtAge =
  | {
      readonly kind: "estimate";
      readonly age: number;
      readonly survival: number;
      readonly standardError: number;
      readonly lower: number;
      readonly upper: number;
      /** Units at risk at exactly this age. */
      readonly atRisk: number;
      /** Failures up to and including this age. */
      readonly failures: number;
    }
  | { readonly kind: "nobody-at-risk"; readonly age: number; readonly failures: number };

/**
 * Reads a survival curve at any age. "nobody-at-risk" where no unit is under observation at that age: beyond the last
 * exit, or inside an unobserved span. Before the first failure survival is 1, its upper limit 1 and its lower limit
 * what no failure among the watched allows (see `lowerLimitWithoutFailures`). Domain: age >= 0, else a RangeError.
 */
export function survivalAtAge(curve: KaplanMeierCurve, age: number): SurvivalAtAge {
  if (!(age >= 0)) throw new RangeError(`age must be 0 or more, got ${age}`);
  if (age === 0) return certainAtAgeZero(curve.units);

  let step: KaplanMeierStep | null = null;
  let failures = 0;
  for (const candidate of curve.steps) {
    if (candidate.age > age) break;
    step = candidate;
    failures += candidate.failures;
  }
  const atRisk = atRiskAt(curve.counts, age);
  if (atRisk === 0) return { kind: "nobody-at-risk", age, failures };
  if (step === null) {
    const lower = lowerLimitWithoutFailures(fewestAtRiskUpTo(curve.counts, age), curve.confidence);
    return { kind: "estimate", age, survival: 1, standardError: 0, lower, upper: 1, atRisk, failures };
  }
  const { survival, standardError, lower, upper } = step;
  return { kind: "estimate", age, survival, standardError, lower, upper, atRisk, failures };
}

/** Every unit works at first use by definition of the clock, so this holds without data and with a width of zero. */
function certainAtAgeZero(units: number): SurvivalAtAge {
  return { kind: "estimate", age: 0, survival: 1, standardError: 0, lower: 1, upper: 1, atRisk: units, failures: 0 };
}
