import { type CalendarDate, compareDates } from "@/lib/warranty/calendar";
import { sayDate } from "@/lib/warranty/say-date";

export const rateKinds = ["labour", "freight"] as const;
export type RateKind = (typeof rateKinds)[number];

/** What the maker pays in a country from a day on: an hour of labour, or the freight of a return. */
export interface Rate {
  readonly id: string;
  readonly kind: RateKind;
  /** ISO 3166-1 alpha-2. */
  readonly country: string;
  /** ISO 4217. */
  readonly currency: string;
  /** In the smallest unit of the currency. */
  readonly amountMinor: number;
  readonly validFrom: CalendarDate;
}

export type FoundRate =
  | { readonly kind: "rate"; readonly rate: Rate }
  | { readonly kind: "no-rate"; readonly sentence: string };

/** The rate of a country on a day: the latest that has begun. Where there is none nothing is made up. */
export function rateOn(rates: readonly Rate[], kind: RateKind, country: string, on: CalendarDate): FoundRate {
  const begun = rates.filter(
    (rate) => rate.kind === kind && rate.country === country && compareDates(rate.validFrom, on) <= 0,
  );
  const [first, ...rest] = begun;
  if (first === undefined) {
    const what = kind === "labour" ? "labour" : "freight";
    return {
      kind: "no-rate",
      sentence: `No rate for ${what} is set for ${country} on ${sayDate(on)}. Ask finance to set one first.`,
    };
  }
  const rate = rest.reduce((latest, one) => (compareDates(latest.validFrom, one.validFrom) < 0 ? one : latest), first);
  return { kind: "rate", rate };
}
