import { type KaplanMeierCurve, kaplanMeier } from "@/lib/stats/kaplan-meier";
import type { LagWeightedCurve } from "@/lib/stats/lag-weighted-survival";
import { lowerLimitWithoutFailures } from "@/lib/stats/survival-limits";
import { middlesOfDays } from "./failure-curve";
import {
  doubtOfShare,
  type FailureEstimate,
  type FailureProbability,
  FEWEST_AT_RISK,
  failureEstimate,
} from "./failure-estimate";
import { lagCorrectedCurve } from "./lag-corrected-curve";
import { countCells, type LifeCell } from "./life-cell";
import { MILESTONE_MONTHS } from "./months-in-service";
import type { Reporting } from "./reporting";
import { visibleAtRisk } from "./visible-exposure";

export interface CorrectedShares {
  /** The curve of what is known, and with what is on its way allowed for. */
  readonly curve: KaplanMeierCurve;
  readonly lagCorrected: LagWeightedCurve;
  /** At each milestone: of what is known, and with what is on its way allowed for, which is what is to be said first. */
  readonly estimates: readonly FailureEstimate[];
  readonly headline: readonly FailureEstimate[];
}

/**
 * Answers: which share of these packs has failed by each milestone, those included that have failed and are not confirmed yet?
 *
 * Where the plain share can be told, the corrected one stands with its own limits; "cannot-tell" (`too-little-known`) where so
 * few of the packs at risk would show a failure at that age by now that it would rest on the correction.
 *
 * @param cells of one group; those of confirmed failures count.
 */
export function correctedShares(cells: readonly LifeCell[], reporting: Reporting): CorrectedShares {
  const confirmed = cells.filter(({ line }) => line === "confirmed");
  const curve = kaplanMeier(countCells(confirmed, "confirmed"));
  const lagCorrected = lagCorrectedCurve(confirmed, reporting);
  const estimates = MILESTONE_MONTHS.map((months) => failureEstimate(curve, months));
  const ages = estimates.map(({ ageDays }) => ageDays);
  const visible = visibleAtRisk(confirmed, ages, reporting);
  // Asked only where nothing has failed yet: the limit of none among the fewest on the way, as the curve has it.
  const fewestBy = (ageDays: number) => {
    const days = middlesOfDays({ lastAge: ageDays }).filter((middle) => middle < ageDays);
    return Math.min(...visibleAtRisk(confirmed, [...days, ageDays], reporting));
  };
  const headline = estimates.map((plain, i) => correctedEstimate(plain, lagCorrected, visible[i] ?? 0, fewestBy));
  return { curve, lagCorrected, estimates, headline };
}

function correctedEstimate(
  plain: FailureEstimate,
  corrected: LagWeightedCurve,
  visible: number,
  fewestBy: (ageDays: number) => number,
): FailureEstimate {
  const { months, ageDays, atRisk, failures } = plain;
  // Where the curve itself says nothing, there is nothing to correct.
  if (plain.kind === "cannot-tell" && plain.reason !== "few-at-risk" && plain.reason !== "few-failures") return plain;
  const share = shareAt(corrected, plain, fewestBy);
  // Where the curve has ended the failures known by then are more than are expected to be visible.
  const isOver = share === null && atRisk >= FEWEST_AT_RISK;
  const reason = isOver ? "too-little-known" : doubtOfShare(share, atRisk, visible);
  if (reason === null && share !== null) return { kind: "estimate", months, ageDays, ...share, atRisk, failures };
  return { kind: "cannot-tell", months, ageDays, reason: reason ?? "too-little-known", atRisk, failures, soFar: share };
}

function shareAt(
  { steps, endsBeforeAge }: LagWeightedCurve,
  { ageDays }: FailureEstimate,
  fewestBy: (ageDays: number) => number,
): FailureProbability | null {
  if (endsBeforeAge !== null && endsBeforeAge <= ageDays) return null;
  const last = steps.findLast(({ age }) => age <= ageDays);
  if (last === undefined) {
    const upper = 1 - lowerLimitWithoutFailures(fewestBy(ageDays), 0.95);
    return { probability: 0, standardError: 0, lower: 0, upper };
  }
  const { survival, standardError, lower, upper } = last;
  return { probability: 1 - survival, standardError, lower: 1 - upper, upper: 1 - lower };
}
