import type { KaplanMeierCurve } from "@/lib/stats/kaplan-meier";
import { survivalAtAge } from "@/lib/stats/survival-at-age";
import { daysAtMonths } from "./months-in-service";

/** With fewer packs at risk one failure moves the curve by 5 % or more. Engineering default, no authority. */
export const FEWEST_AT_RISK = 20;
/** A standard error above half of the estimate says little more than "some". Engineering default, no authority. */
export const LARGEST_RELATIVE_STANDARD_ERROR = 0.5;

export interface FailureProbability {
  readonly probability: number;
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
}

export type CannotTellReason =
  | "age-not-reached"
  | "nobody-watched-at-this-age"
  | "early-packs-used-up"
  | "few-at-risk"
  | "too-little-known"
  | "few-failures";

export type FailureEstimate =
  | (FailureProbability & {
      readonly kind: "estimate";
      readonly months: number;
      readonly ageDays: number;
      readonly atRisk: number;
      readonly failures: number;
    })
  | {
      readonly kind: "cannot-tell";
      readonly months: number;
      readonly ageDays: number;
      readonly reason: CannotTellReason;
      readonly atRisk: number;
      readonly failures: number;
      /** What there is, to be shown in grey with its limits; null where there is nothing. */
      readonly soFar: FailureProbability | null;
    };

/**
 * Answers: which share of packs has failed by so many months in use, and is that already worth saying?
 *
 * F = 1 - S of the Kaplan-Meier curve (ages in days) with the curve's two-sided limits. "cannot-tell" where no pack has
 * reached the age, where nobody was watched at it, where an early risk set was used up or a span of ages before it was
 * watched on nobody (the curve then says nothing about F from first use), where fewer than `FEWEST_AT_RISK` are at
 * risk, or where the relative standard error exceeds `LARGEST_RELATIVE_STANDARD_ERROR` (no failure at all included).
 */
export function failureEstimate(curve: KaplanMeierCurve, months: number): FailureEstimate {
  const ageDays = daysAtMonths(months);
  const at = survivalAtAge(curve, ageDays);
  if (at.kind === "nobody-at-risk") {
    const reason = ageDays > curve.lastAge ? "age-not-reached" : "nobody-watched-at-this-age";
    return { kind: "cannot-tell", months, ageDays, reason, atRisk: 0, failures: at.failures, soFar: null };
  }
  const { atRisk, failures, standardError } = at;
  const soFar = { probability: 1 - at.survival, standardError, lower: 1 - at.upper, upper: 1 - at.lower };
  const reason = whyNotYet(curve, ageDays, atRisk, soFar);
  if (reason === null) return { kind: "estimate", months, ageDays, ...soFar, atRisk, failures };
  const isUsable = reason === "few-at-risk" || reason === "few-failures";
  return { kind: "cannot-tell", months, ageDays, reason, atRisk, failures, soFar: isUsable ? soFar : null };
}

function whyNotYet(
  curve: KaplanMeierCurve,
  ageDays: number,
  atRisk: number,
  soFar: FailureProbability,
): CannotTellReason | null {
  if (curve.exhaustedAtAge !== null && curve.exhaustedAtAge <= ageDays) return "early-packs-used-up";
  if (curve.unobserved.some((span) => span.fromAge < ageDays)) return "nobody-watched-at-this-age";
  if (atRisk < FEWEST_AT_RISK) return "few-at-risk";
  return soFar.standardError > LARGEST_RELATIVE_STANDARD_ERROR * soFar.probability || soFar.probability === 0
    ? "few-failures"
    : null;
}
