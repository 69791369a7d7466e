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
  const reason = doubtOfCurve(curve, ageDays) ?? doubtOfShare(soFar, atRisk, atRisk);
  if (reason === null) return { kind: "estimate", months, ageDays, ...soFar, atRisk, failures };
  const isUsable = reason === "few-at-risk" || reason === "few-failures";
  return { kind: "cannot-tell", months, ageDays, reason, atRisk, failures, soFar: isUsable ? soFar : null };
}

/** Why the curve says nothing of the share failed from first use to this age, whatever its numbers; null where it does. */
export function doubtOfCurve({ exhaustedAtAge, unobserved }: KaplanMeierCurve, ageDays: number) {
  if (exhaustedAtAge !== null && exhaustedAtAge <= ageDays) return "early-packs-used-up";
  return unobserved.some((span) => span.fromAge < ageDays) ? "nobody-watched-at-this-age" : null;
}

/** Where of a failure at an age less than half would be known, the correction is most of the answer. Engineering default, no authority. */
const LEAST_SHARE_VISIBLE = 0.5;

/**
 * Why a share at an age is not worth saying yet; null where it is.
 *
 * @param share null before the first failure. @param atRisk at the age. @param visible the same, each with the chance that a failure at
 * the age would be known today.
 */
export function doubtOfShare(
  share: Pick<FailureProbability, "probability" | "standardError"> | null,
  atRisk: number,
  visible: number,
): CannotTellReason | null {
  if (atRisk < FEWEST_AT_RISK) return "few-at-risk";
  if (visible < FEWEST_AT_RISK || visible < LEAST_SHARE_VISIBLE * atRisk) return "too-little-known";
  const isFew = share === null || share.probability === 0;
  return isFew || share.standardError > LARGEST_RELATIVE_STANDARD_ERROR * share.probability ? "few-failures" : null;
}
