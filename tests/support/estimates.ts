import type { ComparableRevision } from "@/lib/reliability/compare-at-equal-age";
import type { FailureEstimate } from "@/lib/reliability/failure-estimate";

/** A share failed by some months with its limits; counts that a sentence can repeat. */
export function estimateAt(months: number, probability: number, lower: number, upper: number): FailureEstimate {
  return {
    kind: "estimate",
    months,
    ageDays: (months * 365.25) / 12,
    probability,
    standardError: (upper - lower) / 4,
    lower,
    upper,
    atRisk: 400,
    failures: 12,
  };
}

export function notYetAt(months: number): FailureEstimate {
  return {
    kind: "cannot-tell",
    months,
    ageDays: (months * 365.25) / 12,
    reason: "age-not-reached",
    atRisk: 0,
    failures: 0,
    soFar: null,
  };
}

export function comparable(
  group: string,
  estimates: readonly FailureEstimate[],
  changes: Partial<ComparableRevision> = {},
): ComparableRevision {
  return { modelName: "Model M", group, current: false, estimates, ...changes };
}
