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
  | { readonly kind: "no-rate"; readonly sentence: string }
  /** There are rates, but none in the currency that was named, or several and none was named. */
  | { readonly kind: "which-currency"; readonly sentence: string };

interface AskedRate {
  readonly kind: RateKind;
  readonly country: string;
  /** Empty: the one there is. */
  readonly currency: string;
}

/** The rate of a country on a day: the latest that has begun, in the currency named. Where there is none nothing is made up. */
export function rateOn(rates: readonly Rate[], { kind, country, currency }: AskedRate, on: CalendarDate): FoundRate {
  const begunAtAll = rates.filter(
    (rate) => rate.kind === kind && rate.country === country && compareDates(rate.validFrom, on) <= 0,
  );
  const what = kind === "labour" ? "labour" : "freight";
  const currencies = [...new Set(begunAtAll.map((rate) => rate.currency))].sort();
  if (currencies.length > 0 && currency !== "" && !currencies.includes(currency)) {
    const sentence = `No rate for ${what} is set for ${country} in ${currency} on ${sayDate(on)}, only in ${currencies.join(" and ")}.`;
    return { kind: "which-currency", sentence };
  }
  if (currencies.length > 1 && currency === "") {
    return {
      kind: "which-currency",
      sentence: `Say in which currency: ${country} has rates in ${currencies.join(" and ")}.`,
    };
  }
  const begun = begunAtAll.filter((rate) => currency === "" || rate.currency === currency);
  const [first, ...rest] = begun;
  if (first === undefined) {
    return {
      kind: "no-rate",
      sentence: `No rate for ${what} is set for ${country} on ${sayDate(on)}. Ask finance to set one first.`,
    };
  }
  const rate = rest.reduce((latest, one) => (compareDates(latest.validFrom, one.validFrom) < 0 ? one : latest), first);
  return { kind: "rate", rate };
}
