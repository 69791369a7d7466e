import { CauseTally } from "@/lib/stats/cause-tally";
import { cumulativeIncidence } from "@/lib/stats/cumulative-incidence";
import type { KaplanMeierCurve } from "@/lib/stats/kaplan-meier";
import { type FailureEstimate, failureEstimate, LARGEST_RELATIVE_STANDARD_ERROR } from "./failure-estimate";
import { type LifeCell, outcomeOfCell } from "./life-cell";
import { MILESTONE_MONTHS } from "./months-in-service";

/**
 * Answers: which share came back for the first time with what is or may be a failure: confirmed, undecided, or with the fault unknown?
 *
 * The cumulative incidence of first returns that were or may be failures, beside those in which nothing was found; a pack that came
 * back with nothing found and failed later is not in it, so it can lie below the share that failed. "cannot-tell" as for the share that came back, or where its own standard error is too large.
 *
 * @param cells of one group. @param curve of its first returns, whatever came of them.
 */
export function mayHaveFailed(cells: readonly LifeCell[], curve: KaplanMeierCurve): FailureEstimate[] {
  const tally = new CauseTally();
  for (const cell of cells) {
    if (cell.line !== "any-return") continue;
    const isOrMayBe = cell.status === "returned" && outcomeOfCell(cell) !== "not-confirmed";
    const cause = cell.status === "returned" ? (isOrMayBe ? "may-have-failed" : "not-confirmed") : null;
    tally.add(cell.entryDays, cell.exitDays, cause, cell.packs);
  }
  const steps = cumulativeIncidence(tally.counts()).find(({ cause }) => cause === "may-have-failed")?.steps ?? [];
  return MILESTONE_MONTHS.map((months): FailureEstimate => {
    const back = failureEstimate(curve, months);
    const reached = steps.filter(({ age }) => age <= back.ageDays);
    const { ageDays, atRisk } = back;
    const at = { months, ageDays, atRisk, failures: reached.reduce((sum, { failures }) => sum + failures, 0) };
    const last = reached.at(-1);
    if (back.kind === "cannot-tell" && back.reason !== "few-failures")
      return { ...at, kind: "cannot-tell", reason: back.reason, soFar: null };
    if (last === undefined) return { ...at, kind: "cannot-tell", reason: "few-failures", soFar: null };
    const { incidence: probability, standardError, lower, upper } = last;
    const share = { probability, standardError, lower, upper };
    return standardError > LARGEST_RELATIVE_STANDARD_ERROR * probability
      ? { ...at, kind: "cannot-tell", reason: "few-failures", soFar: share }
      : { ...at, kind: "estimate", ...share };
  });
}
