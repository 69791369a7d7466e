import { type CalendarDate, compareDates } from "@/lib/warranty/calendar";
import { sayDate } from "@/lib/warranty/say-date";
import { minorDigits } from "./money";

/** What one unit of a currency is worth in another from a day on. Dated and never changed: a later one follows it. */
export interface ExchangeRate {
  /** ISO 4217. */
  readonly currency: string;
  readonly into: string;
  /** Units of `into` for one unit of `currency`. */
  readonly rate: number;
  readonly validFrom: CalendarDate;
}

export type Converted =
  | { readonly kind: "amount"; readonly amountMinor: number; readonly rate: ExchangeRate | null }
  | { readonly kind: "no-rate"; readonly sentence: string };

/**
 * An amount in the smallest unit of another currency, at the latest rate that has begun on the day; not rounded, because it
 * is calculated on. Without a rate nothing is made up: a rate the other way round or across a third currency is not used.
 */
export function convert(
  amountMinor: number,
  currency: string,
  into: string,
  on: CalendarDate,
  rates: readonly ExchangeRate[],
): Converted {
  if (currency === into) return { kind: "amount", amountMinor, rate: null };
  const begun = rates.filter(
    (rate) => rate.currency === currency && rate.into === into && compareDates(rate.validFrom, on) <= 0,
  );
  const [first, ...rest] = begun;
  if (first === undefined) {
    const sentence = `No rate from ${currency} into ${into} is set for ${sayDate(on)}. Ask finance to set one.`;
    return { kind: "no-rate", sentence };
  }
  const rate = rest.reduce((latest, one) => (compareDates(latest.validFrom, one.validFrom) < 0 ? one : latest), first);
  const units = (amountMinor / 10 ** minorDigits(currency)) * rate.rate;
  return { kind: "amount", amountMinor: units * 10 ** minorDigits(into), rate };
}
