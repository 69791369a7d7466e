import { type AmountKind, amountMoments } from "@/lib/stats/amount-lattice";
import type { CostBook } from "./cost-book";
import { type CostLine, costLines, countReturns, type DecidedReturns, sourceErrorVariance } from "./cost-lines";
import { besideErrorVariance, type ReturnsBeside, returnsBeside, withReturnsBeside } from "./returns-beside";

/** With fewer decided failures nobody knows what failures of a model lead to. Engineering default, no authority. */
const FEWEST_DECIDED = 5;
const Z_95 = 1.959963984540054;

/** Returns within cover decided so far: those with a confirmed failure, and the others. */
export interface DecidedAlike {
  /** The revisions whose returns these are. */
  readonly of: string;
  readonly failures: readonly DecidedReturns[];
  readonly others: readonly DecidedReturns[];
  /** Decided as well, but told after the end of cover: in no cost. */
  readonly afterCover: number;
}

export interface KnownCost {
  readonly kind: "cost";
  readonly currency: string;
  /** Of a single failure and the returns that come beside it, in the smallest unit of the currency. */
  readonly mean: number;
  readonly spread: number;
  /** 95 % limits of the mean. */
  readonly lower: number;
  readonly upper: number;
  /** Standard error of the mean over the mean. */
  readonly relativeError: number;
  /** Decided failures that say which remedy a failure leads to. */
  readonly decided: number;
  /** The revisions they are of. */
  readonly of: string;
  /** Returns of these decided as well, but told after the end of cover: not in it. */
  readonly afterCover: number;
  readonly amounts: readonly AmountKind[];
  readonly lines: readonly CostLine[];
  /** In the mean where its own cost is known. */
  readonly beside: ReturnsBeside;
}

export type FailureCost =
  | KnownCost
  | {
      readonly kind: "unknown";
      readonly currency: string;
      /** The revisions whose decided failures would tell it. */
      readonly of: string;
      readonly sentences: readonly string[];
    };

/**
 * Answers: what does one confirmed failure within cover cost the maker, together with the returns that come beside it in which
 * no failure is confirmed?
 *
 * A failure leads to a remedy in a country as often as the decided failures within cover did that are like it (`decidedAlike`); there it costs our own work
 * and what the dealer is paid, each from settled returns where enough exist, else from an approved assumption. Beside it come
 * as many other returns as did so far, with their own remedies and costs; where one of those has no cost they are left out,
 * and `beside` says so. The spread holds that of single returns (the two parts taken as independent), that between remedies
 * and that of the number beside. The error of the mean holds the error of every source, once for all that it is used for, and
 * the doubt about the shares of the remedies and about the number beside. Limits of the mean are lognormal.
 *
 * Unknown, with a sentence for each thing missing, where a remedy that occurred has no cost, or a currency no rate.
 */
export function failureCost(
  model: string,
  { of, failures, others, afterCover }: DecidedAlike,
  book: CostBook,
): FailureCost {
  const { reportingCurrency: currency } = book;
  const decided = countReturns(failures);
  if (decided < FEWEST_DECIDED) {
    const sentences = [`Fewer than ${FEWEST_DECIDED} failures of ${of} within cover are decided.`];
    return { kind: "unknown", currency, of, sentences };
  }
  const priced = costLines(model, failures, true, book);
  if (priced.kind === "unknown") return { ...priced, currency, of };
  return { currency, of, afterCover, ...summed(priced.lines, decided, returnsBeside(model, decided, others, book)) };
}

function summed(
  lines: readonly CostLine[],
  decided: number,
  beside: ReturnsBeside,
): Omit<KnownCost, "currency" | "of" | "afterCover"> {
  const alone = lines.map(({ share, mean, spread }) => ({ share: share.value, mean, spread }));
  const { mean: meanAlone } = amountMoments(alone);
  const between = alone.reduce((sum, kind) => sum + kind.share * (kind.mean - meanAlone) ** 2, 0);
  const linesBeside = beside.kind === "known" ? beside.lines : [];
  const amounts = beside.kind === "known" ? withReturnsBeside(alone, beside) : alone;
  const { mean, variance } = amountMoments(amounts);
  const errorVariance =
    sourceErrorVariance([...lines, ...linesBeside], decided) +
    between / decided +
    besideErrorVariance(linesBeside, decided);
  const relativeError = Math.sqrt(errorVariance) / mean;
  const logError = Math.sqrt(Math.log1p(relativeError ** 2));
  return {
    kind: "cost",
    mean,
    spread: Math.sqrt(variance),
    lower: mean * Math.exp(-Z_95 * logError),
    upper: mean * Math.exp(Z_95 * logError),
    relativeError,
    decided,
    amounts: mergedKinds(amounts),
    lines,
    beside,
  };
}

function mergedKinds(kinds: readonly AmountKind[]): AmountKind[] {
  const merged = new Map<string, AmountKind>();
  for (const kind of kinds) {
    const key = `${kind.mean} ${kind.spread}`;
    merged.set(key, { ...kind, share: kind.share + (merged.get(key)?.share ?? 0) });
  }
  return [...merged.values()];
}
