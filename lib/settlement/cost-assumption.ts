import type { DecidableRemedy } from "@/lib/returns/decision.schema";
import { type CalendarDate, compareDates } from "@/lib/warranty/calendar";

/** A return costs the maker twice: what it does itself, and what it pays the dealer. The ledger knows only the second. */
export const costParts = ["own-work", "dealer-payments"] as const;
export type CostPart = (typeof costParts)[number];

export const costPartWords: Readonly<Record<CostPart, string>> = {
  "own-work": "Our own work, parts, packs and refunds",
  "dealer-payments": "Labour and freight paid to the dealer",
};

/** What one return with a remedy costs from a day on, as two people hold it to be. Amounts in the smallest unit. */
export interface CostAssumption {
  readonly id: string;
  readonly part: CostPart;
  readonly remedy: DecidableRemedy;
  /** Null: every model without one of its own. */
  readonly model: string | null;
  /** ISO 3166-1 alpha-2; null: every country without one of its own. */
  readonly country: string | null;
  readonly currency: string;
  readonly meanMinor: number;
  /** Standard deviation from one return to another. */
  readonly spreadMinor: number;
  /** By how much the mean itself may be off: one standard error. */
  readonly errorMinor: number;
  /** Returns it was worked out from; 0 for an estimate. */
  readonly cases: number;
  readonly validFrom: CalendarDate;
}

/**
 * The approved assumption for a return: that of its model and country, else of its model, else of its country, else of all;
 * among those of one kind the latest that has begun. Null where there is none: then nothing is made up.
 */
export function assumptionFor(
  assumptions: readonly CostAssumption[],
  of: { readonly part: CostPart; readonly remedy: string; readonly model: string; readonly country: string },
  on: CalendarDate,
): CostAssumption | null {
  const fitting = assumptions.filter(
    ({ part, remedy, model, country, validFrom }) =>
      part === of.part &&
      remedy === of.remedy &&
      (model === null || model === of.model) &&
      (country === null || country === of.country) &&
      compareDates(validFrom, on) <= 0,
  );
  const better = (one: CostAssumption, other: CostAssumption) =>
    closeness(one) - closeness(other) || compareDates(one.validFrom, other.validFrom);
  const [first, ...rest] = fitting;
  return first === undefined ? null : rest.reduce((best, one) => (better(one, best) > 0 ? one : best), first);
}

function closeness({ model, country }: CostAssumption): number {
  return (model === null ? 0 : 2) + (country === null ? 0 : 1);
}

/** The error of a mean: from the returns it was worked out from, else as stated. */
export function errorOfMean(spread: number, cases: number, stated: number): number {
  return cases >= 2 ? spread / Math.sqrt(cases) : stated;
}
