import type { DecidableRemedy } from "@/lib/returns/decision.schema";
import type { CostPart } from "@/lib/settlement/cost-assumption";
import { clopperPearsonLimits } from "@/lib/stats/binomial-limits";
import type { Limits } from "@/lib/stats/survival-limits";
import { countryName } from "@/lib/transport/country-name";
import type { CostBook } from "./cost-book";
import { type KnownPart, partCost, type UnknownPart } from "./part-cost";

/** So many returns of a model that were decided alike in one country. */
export interface DecidedReturns {
  readonly remedy: DecidableRemedy;
  readonly country: string;
  readonly returns: number;
}

/** One remedy in one country: how often it was decided, and what it costs. */
export interface CostLine extends DecidedReturns {
  /** Share of the returns decided, with exact 95 % limits. */
  readonly share: Limits & { readonly value: number };
  readonly parts: Readonly<Record<CostPart, KnownPart>>;
  /** Both parts of one return together. */
  readonly mean: number;
  readonly spread: number;
}

export type CostLines =
  | { readonly kind: "known"; readonly lines: readonly CostLine[]; readonly returns: number }
  | { readonly kind: "unknown"; readonly sentences: readonly string[] };

/** What returns cost that were decided so; a sentence for each thing missing where any of it has no cost. */
export function costLines(
  model: string,
  decided: readonly DecidedReturns[],
  confirmed: boolean,
  book: CostBook,
): CostLines {
  const returns = countReturns(decided);
  const missing = new Map<string, Set<string>>();
  const lines = decided.flatMap((one): CostLine[] => {
    const own = partCost("own-work", model, { ...one, confirmed }, book);
    const dealer = partCost("dealer-payments", model, { ...one, confirmed }, book);
    if (own.kind === "known" && dealer.kind === "known") {
      const share = { value: one.returns / returns, ...clopperPearsonLimits(one.returns, returns) };
      const together = { mean: own.mean + dealer.mean, spread: Math.hypot(own.spread, dealer.spread) };
      return [{ ...one, share, ...together, parts: { "own-work": own, "dealer-payments": dealer } }];
    }
    for (const part of [own, dealer]) if (part.kind === "unknown") note(missing, part);
    return [];
  });
  return missing.size > 0 ? { kind: "unknown", sentences: saidOnce(missing) } : { kind: "known", lines, returns };
}

export function countReturns(decided: readonly DecidedReturns[]): number {
  return decided.reduce((sum, { returns }) => sum + returns, 0);
}

/**
 * Variance of the error of a sum of costs, each line taken `returns / per` times. A source that is wrong is wrong for every
 * return it is used for: its weights add up before they are squared.
 */
export function sourceErrorVariance(lines: readonly CostLine[], per: number): number {
  const bySource = new Map<string, { weight: number; error: number }>();
  for (const { returns, parts } of lines) {
    for (const { source, error } of Object.values(parts)) {
      const known = bySource.get(source) ?? { weight: 0, error };
      bySource.set(source, { weight: known.weight + returns / per, error });
    }
  }
  return [...bySource.values()].reduce((sum, { weight, error }) => sum + (weight * error) ** 2, 0);
}

function note(missing: Map<string, Set<string>>, { sentence, country }: UnknownPart): void {
  const countries = missing.get(sentence) ?? new Set();
  missing.set(sentence, country === null ? countries : countries.add(country));
}

/** One sentence for one thing, however many countries it is missing in. */
function saidOnce(missing: ReadonlyMap<string, ReadonlySet<string>>): string[] {
  return [...missing].map(([sentence, countries]) =>
    countries.size === 0 ? sentence : `${sentence} ${[...countries].map(countryName).sort().join(", ")}.`,
  );
}
