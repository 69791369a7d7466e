import type { AmountKind } from "@/lib/stats/amount-lattice";
import { type CompoundPart, compoundSum, sumQuantile } from "@/lib/stats/compound-sum";
import type { FailureCost } from "./failure-cost";

/** A number of failures as it is foretold: what is expected, and the probability of each number from 0. */
export interface ForetoldCount {
  readonly expected: number;
  readonly distribution: Float64Array;
  /** For the lower limit, where it is another. */
  readonly drawn?: Float64Array;
}

/** What the cost of so many failures is told from: mean cost of one, its kinds, and the standard error of the mean over it. */
export interface CostOfOne {
  readonly currency: string;
  readonly mean: number;
  readonly relativeError: number;
  readonly amounts: readonly AmountKind[];
}

/** Cost in the smallest unit of its currency, with 95 % limits that hold chance, doubt about the law, and doubt about the cost. */
export interface ForetoldCost {
  readonly currency: string;
  readonly expected: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * Answers: what will so many failures cost? Expected = expected failures times mean cost of one. The limits are those of the
 * sum of a random number of random amounts: the number with chance and doubt about the law, each amount with the spread of
 * single returns, all amounts with the error of their mean in common. Amounts are gamma distributions by remedy; number and
 * amounts are taken as independent.
 *
 * Null where nothing is foretold or the cost is unknown. Source: Klugman, Panjer & Willmot, Loss Models, on aggregate loss
 * models (from memory: verify in chapter 9).
 */
export function foretoldCost(count: ForetoldCount | null, cost: FailureCost): ForetoldCost | null {
  return count === null || cost.kind === "unknown" ? null : foretoldCostOfAll([{ count, cost }]);
}

/**
 * The sum over groups. Numbers are independent between groups, as their laws are fitted to different packs; the error of
 * the mean cost is not, because one assumption serves many groups: it is taken as wholly common, which errs to the wide side.
 * Null for no group.
 */
export function foretoldCostOfAll(
  groups: readonly { readonly count: ForetoldCount; readonly cost: CostOfOne }[],
): ForetoldCost | null {
  const [first] = groups;
  if (first === undefined) return null;
  const sumOf = (countsOf: (count: ForetoldCount) => Float64Array) =>
    compoundSum(groups.map(({ count, cost }): CompoundPart => ({ counts: countsOf(count), amounts: cost.amounts })));
  const expected = groups.reduce((sum, { count, cost }) => sum + count.expected * cost.mean, 0);
  const error = groups.reduce((sum, { count, cost }) => sum + count.expected * cost.mean * cost.relativeError, 0);
  const distribution = sumOf((count) => count.distribution);
  const hasDrawn = groups.some(({ count }) => count.drawn !== undefined);
  const forLower = hasDrawn ? sumOf((count) => count.drawn ?? count.distribution) : distribution;
  const relativeError = expected > 0 ? error / expected : 0;
  return {
    currency: first.cost.currency,
    expected,
    lower: sumQuantile(forLower, 0.025, relativeError),
    upper: sumQuantile(distribution, 0.975, relativeError),
  };
}
