import type { AmountKind } from "@/lib/stats/amount-lattice";
import { amountMoments } from "@/lib/stats/amount-lattice";
import { clopperPearsonLimits } from "@/lib/stats/binomial-limits";
import type { CostBook } from "./cost-book";
import { type CostLine, costLines, countReturns, type DecidedReturns } from "./cost-lines";

/**
 * Returns without a confirmed failure, told by how many of them come for one with it: no fault found, outside cause, refused,
 * unknown. `ratio` has exact limits, from the share they have of all decided returns.
 */
export interface RatioBeside {
  readonly returns: number;
  readonly ratio: number;
  readonly lower: number;
  readonly upper: number;
}

export type ReturnsBeside = RatioBeside &
  (
    | {
        readonly kind: "known";
        /** Of a single such return. */
        readonly mean: number;
        readonly spread: number;
        readonly lines: readonly CostLine[];
      }
    | { readonly kind: "unknown"; readonly sentences: readonly string[] }
  );

/** What comes beside the failures of a model, and what one of it costs; a cost that is missing leaves it out of every cost, by name. */
export function returnsBeside(
  model: string,
  failures: number,
  others: readonly DecidedReturns[],
  book: CostBook,
): ReturnsBeside {
  const returns = countReturns(others);
  const share = clopperPearsonLimits(returns, failures + returns);
  const perFailure = (part: number) => part / (1 - part);
  const ratio = {
    returns,
    ratio: returns / failures,
    lower: perFailure(share.lower),
    upper: perFailure(share.upper),
  };
  const priced = costLines(model, others, false, book);
  if (priced.kind === "unknown") return { ...ratio, ...priced };
  const { mean, variance } = amountMoments(
    priced.lines.map(({ share: { value }, ...line }) => ({ share: value, mean: line.mean, spread: line.spread })),
  );
  return { ...ratio, kind: "known", mean, spread: Math.sqrt(variance), lines: priced.lines };
}

/** So many of them are told one by one; more are put together. */
const MOST_APART = 3;

/**
 * Amounts of a failure with the returns that come beside it: their number is geometric, which is what it is where each decided
 * return is a confirmed failure or not by the same chance, in any order. Three or more are put together, mean and variance kept.
 */
export function withReturnsBeside(
  kinds: readonly AmountKind[],
  { ratio, mean, spread }: { readonly ratio: number; readonly mean: number; readonly spread: number },
): AmountKind[] {
  if (ratio === 0) return [...kinds];
  const again = ratio / (1 + ratio);
  const numbers = Array.from({ length: MOST_APART }, (_, k) => ({ share: (1 - again) * again ** k, k, variance: 0 }));
  numbers.push({ share: again ** MOST_APART, k: MOST_APART + ratio, variance: ratio * (1 + ratio) });
  return kinds.flatMap((kind) =>
    numbers.map(({ share, k, variance }) => ({
      share: kind.share * share,
      mean: kind.mean + k * mean,
      spread: Math.sqrt(kind.spread ** 2 + k * spread ** 2 + variance * mean ** 2),
    })),
  );
}

/** Variance of what the returns beside add to the mean cost of a failure: of their number and mix, and of the failures they are counted by. */
export function besideErrorVariance(lines: readonly CostLine[], failures: number): number {
  const added = lines.reduce((sum, { returns, mean }) => sum + (returns * mean) / failures, 0);
  const ofNumbers = lines.reduce((sum, { returns, mean }) => sum + returns * (mean / failures) ** 2, 0);
  return ofNumbers + added ** 2 / failures;
}
