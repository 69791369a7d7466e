import { type DecidableRemedy, remedyLabels } from "@/lib/returns/decision.schema";
import { assumptionFor, type CostPart, costPartWords, errorOfMean } from "@/lib/settlement/cost-assumption";
import { type Converted, convert } from "@/lib/settlement/exchange";
import { sayDate } from "@/lib/warranty/say-date";
import type { CostBook } from "./cost-book";

/** From so many settled returns of one remedy and country on the ledger outranks an assumption. Engineering default, no authority. */
export const FEWEST_SETTLED = 10;

/** One part of the cost of a return, in the smallest unit of the reporting currency. */
export interface KnownPart {
  readonly kind: "known";
  readonly mean: number;
  readonly spread: number;
  /** Standard error of the mean. */
  readonly error: number;
  readonly cases: number;
  /** Equal for parts that rest on the same thing, and so err together. */
  readonly source: string;
  readonly sourceWords: string;
}

/** What is missing: a sentence that goes on with the countries it is missing in, or one that is whole. */
export interface UnknownPart {
  readonly kind: "unknown";
  readonly sentence: string;
  readonly country: string | null;
}

export type PartCost = KnownPart | UnknownPart;

/**
 * What one part of the cost of a return comes to. The ledger holds what dealers are paid and nothing of our own work, so
 * only that part is ever taken from settled returns: from ten of the same remedy and country on, returns with a confirmed
 * failure and others apart.
 */
export function partCost(
  part: CostPart,
  model: string,
  of: { readonly remedy: DecidableRemedy; readonly country: string; readonly confirmed: boolean },
  book: CostBook,
): PartCost {
  const settled = part === "own-work" ? null : settledPart(of, book);
  if (settled !== null) return settled;
  const assumption = assumptionFor(book.assumptions, { part, ...of, model }, book.on);
  if (assumption === null) {
    const what = `${costPartWords[part]} for “${remedyLabels[of.remedy]}”`;
    return { kind: "unknown", sentence: `${what}: no amount is approved for ${model} in`, country: of.country };
  }
  const { id, currency, cases, validFrom, meanMinor, spreadMinor } = assumption;
  const unit = convert(1, currency, book.reportingCurrency, book.on, book.rates);
  if (unit.kind === "no-rate") return { kind: "unknown", sentence: unit.sentence, country: null };
  const rests = cases === 0 ? "estimated" : `worked out from ${cases} ${cases === 1 ? "return" : "returns"}`;
  return {
    kind: "known",
    mean: meanMinor * unit.amountMinor,
    spread: spreadMinor * unit.amountMinor,
    error: errorOfMean(spreadMinor, cases, assumption.errorMinor) * unit.amountMinor,
    cases,
    source: id,
    sourceWords: `assumed from ${sayDate(validFrom)}, ${rests}${rateWords(unit)}`,
  };
}

function settledPart(
  { remedy, country, confirmed }: { remedy: DecidableRemedy; country: string; confirmed: boolean },
  book: CostBook,
): PartCost | null {
  const alike = book.settled.filter(
    (one) => one.remedy === remedy && one.country === country && one.confirmed === confirmed,
  );
  if (alike.length < FEWEST_SETTLED) return null;
  const amounts: number[] = [];
  for (const { amountMinor, currency } of alike) {
    const converted = convert(amountMinor, currency, book.reportingCurrency, book.on, book.rates);
    if (converted.kind === "no-rate") return { kind: "unknown", sentence: converted.sentence, country: null };
    amounts.push(converted.amountMinor);
  }
  const mean = amounts.reduce((sum, amount) => sum + amount, 0) / amounts.length;
  const variance = amounts.reduce((sum, amount) => sum + (amount - mean) ** 2, 0) / (amounts.length - 1);
  return {
    kind: "known",
    mean,
    spread: Math.sqrt(variance),
    error: Math.sqrt(variance / amounts.length),
    cases: amounts.length,
    source: `settled ${remedy} ${country} ${confirmed}`,
    sourceWords: `from ${amounts.length} settled returns`,
  };
}

function rateWords({ rate }: Extract<Converted, { kind: "amount" }>): string {
  return rate === null ? "" : `, 1 ${rate.currency} = ${rate.rate} ${rate.into} from ${sayDate(rate.validFrom)}`;
}
