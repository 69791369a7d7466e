import type { DecidableRemedy } from "@/lib/returns/decision.schema";
import type { CostPart } from "@/lib/settlement/cost-assumption";
import { type AmountKind, amountMoments } from "@/lib/stats/amount-lattice";
import type { CostBook } from "./cost-book";
import { type KnownPart, partCost, type UnknownPart } from "./part-cost";

/** With fewer decided failures nobody knows what failures of a model lead to. Engineering default, no authority. */
export const FEWEST_DECIDED = 5;
const Z_95 = 1.959963984540054;

/** So many confirmed failures of a model that were decided alike in one country. */
export interface DecidedFailures {
  readonly remedy: DecidableRemedy;
  readonly country: string;
  readonly failures: number;
}

/** One remedy in one country: how often it was decided, and what it costs. */
export interface CostLine extends DecidedFailures {
  readonly parts: Readonly<Record<CostPart, KnownPart>>;
}

export interface KnownCost {
  readonly kind: "cost";
  readonly currency: string;
  /** Of a single failure, in the smallest unit of the currency. */
  readonly mean: number;
  readonly spread: number;
  /** 95 % limits of the mean. */
  readonly lower: number;
  readonly upper: number;
  /** Standard error of the mean over the mean. */
  readonly relativeError: number;
  /** Decided failures that say which remedy a failure leads to. */
  readonly decided: number;
  readonly amounts: readonly AmountKind[];
  readonly lines: readonly CostLine[];
}

export type FailureCost =
  | KnownCost
  | { readonly kind: "unknown"; readonly currency: string; readonly sentences: readonly string[] };

/**
 * Answers: what does one confirmed failure of a model cost the maker?
 *
 * A failure leads to a remedy in a country as often as the decided failures of the model did; there it costs our own work
 * and what the dealer is paid, each from settled returns where enough exist, else from an approved assumption. The spread holds both
 * that of single returns (the two parts taken as independent) and that between remedies. The error of the mean holds
 * the error of every source, once for all the failures it is used for, and the doubt about the shares of the remedies: the
 * variance between remedies over the number decided, as for a multinomial sample. Limits of the mean are lognormal.
 *
 * Unknown, with a sentence for each thing missing, where a remedy that occurred has no cost, or a currency no rate.
 */
export function failureCost(model: string, decided: readonly DecidedFailures[], book: CostBook): FailureCost {
  const failures = decided.reduce((sum, one) => sum + one.failures, 0);
  if (failures < FEWEST_DECIDED)
    return unknown(book, [`Fewer than ${FEWEST_DECIDED} failures of ${model} are decided.`]);
  const missing = new Map<string, Set<string>>();
  const lines = decided.flatMap((one) => {
    const own = partCost("own-work", model, one, book);
    const dealer = partCost("dealer-payments", model, one, book);
    if (own.kind === "known" && dealer.kind === "known")
      return [{ ...one, parts: { "own-work": own, "dealer-payments": dealer } }];
    for (const part of [own, dealer]) if (part.kind === "unknown") note(missing, part);
    return [];
  });
  return missing.size > 0 ? unknown(book, saidOnce(missing)) : summed(lines, failures, book);
}

function note(missing: Map<string, Set<string>>, { sentence, country }: UnknownPart): void {
  const countries = missing.get(sentence) ?? new Set();
  missing.set(sentence, country === null ? countries : countries.add(country));
}

/** One sentence for one thing, however many countries it is missing in. */
function saidOnce(missing: ReadonlyMap<string, ReadonlySet<string>>): string[] {
  return [...missing].map(([sentence, countries]) =>
    countries.size === 0 ? sentence : `${sentence} ${[...countries].sort().join(", ")}.`,
  );
}

function unknown({ reportingCurrency }: CostBook, sentences: readonly string[]): FailureCost {
  return { kind: "unknown", currency: reportingCurrency, sentences };
}

function summed(lines: readonly CostLine[], decided: number, { reportingCurrency }: CostBook): KnownCost {
  const amounts = lines.map(({ failures, parts: { "own-work": own, "dealer-payments": dealer } }) => ({
    share: failures / decided,
    mean: own.mean + dealer.mean,
    spread: Math.hypot(own.spread, dealer.spread),
  }));
  const { mean, variance } = amountMoments(amounts);
  const between = amounts.reduce((sum, kind) => sum + kind.share * (kind.mean - mean) ** 2, 0);
  const relativeError = Math.sqrt(errorVariance(lines, decided) + between / decided) / mean;
  const logError = Math.sqrt(Math.log1p(relativeError ** 2));
  return {
    kind: "cost",
    currency: reportingCurrency,
    mean,
    spread: Math.sqrt(variance),
    lower: mean * Math.exp(-Z_95 * logError),
    upper: mean * Math.exp(Z_95 * logError),
    relativeError,
    decided,
    amounts: mergedKinds(amounts),
    lines,
  };
}

/** A source that is wrong is wrong for every failure it is used for: its shares add up before they are squared. */
function errorVariance(lines: readonly CostLine[], decided: number): number {
  const bySource = new Map<string, { share: number; error: number }>();
  for (const { failures, parts } of lines) {
    for (const { source, error } of Object.values(parts)) {
      const known = bySource.get(source) ?? { share: 0, error };
      bySource.set(source, { share: known.share + failures / decided, error });
    }
  }
  return [...bySource.values()].reduce((sum, { share, error }) => sum + (share * error) ** 2, 0);
}

function mergedKinds(kinds: readonly AmountKind[]): AmountKind[] {
  const merged = new Map<string, AmountKind>();
  for (const kind of kinds) {
    const key = `${kind.mean} ${kind.spread}`;
    merged.set(key, { ...kind, share: kind.share + (merged.get(key)?.share ?? 0) });
  }
  return [...merged.values()];
}
