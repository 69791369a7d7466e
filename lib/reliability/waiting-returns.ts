import { betaBinomial } from "@/lib/stats/beta-binomial";
import { type ForetoldCost, foretoldCostOfAll } from "./cost-forecast";
import type { FailureCost } from "./failure-cost";
import { foldCounts, totalLimits } from "./fold-counts";

/** Of a revision: what waits for a decision, what was put right, and what a failure costs. */
export interface BesideRunning {
  readonly group: string;
  /** Returns within cover that nobody has decided on. */
  readonly undecided: number;
  /** Packs put right after a confirmed failure and in use again under cover: their next failures are in no forecast. */
  readonly backInUse: number;
  readonly cost: FailureCost;
}

export interface WaitingTotal {
  /** Undecided returns that the numbers are of. */
  readonly returns: number;
  /** Of these so many will be confirmed failures, by the share confirmed so far. */
  readonly failures: { readonly expected: number; readonly lower: number; readonly upper: number };
  readonly cost: ForetoldCost;
  /** Undecided returns of revisions whose cost, and so whose share, is not known. */
  readonly leftOut: { readonly returns: number; readonly groups: readonly string[] };
}

/**
 * Answers: how many of the returns nobody has decided on will be confirmed failures, and what will they cost? Each is one by the
 * share of the decided returns within cover that were, of the revision or of those that can be repaired alike, whatever it waits
 * for; the limits hold chance, the doubt about that share and that about the cost. Null where none waits of which it can be told.
 */
export function waitingTotal(revisions: readonly BesideRunning[]): WaitingTotal | null {
  const waiting = revisions.filter(({ undecided }) => undecided > 0);
  const told = waiting.flatMap(({ undecided, cost }) => {
    if (cost.kind === "unknown") return [];
    const { decided, beside } = cost;
    const distribution = betaBinomial(undecided, { successes: decided, failures: beside.returns });
    const expected = distribution.reduce((sum, share, count) => sum + share * count, 0);
    return [{ undecided, cost, count: { expected, distribution } }];
  });
  const cost = foretoldCostOfAll(told);
  if (cost === null) return null;
  const without = waiting.filter((one) => one.cost.kind === "unknown");
  const limits = totalLimits(foldCounts(told.map(({ count }) => count.distribution)));
  return {
    returns: sum(told),
    failures: { expected: told.reduce((total, { count }) => total + count.expected, 0), ...limits },
    cost,
    leftOut: { returns: sum(without), groups: without.map(({ group }) => group) },
  };
}

function sum(some: readonly { readonly undecided: number }[]): number {
  return some.reduce((total, { undecided }) => total + undecided, 0);
}
