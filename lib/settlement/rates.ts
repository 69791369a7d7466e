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

/** From this day on the maker pays nothing in that currency, until a later rate begins. */
export interface RateEnd {
  readonly kind: RateKind;
  readonly country: string;
  readonly currency: string;
  readonly endsOn: CalendarDate;
}

export type FoundRate =
  | { readonly kind: "rate"; readonly rate: Rate }
  | { readonly kind: "no-rate"; readonly sentence: string }
  /** Not the currency that was named; or several hold, between which nobody chooses the better. */
  | { readonly kind: "not-this-currency"; readonly sentence: string };

interface AskedRate {
  readonly kind: RateKind;
  readonly country: string;
  /** Empty: the one there is. */
  readonly currency: string;
}

const whatWords: Readonly<Record<RateKind, string>> = { labour: "labour", freight: "freight" };

/** The rates of a country that hold on a day, one a currency: the latest that has begun, unless it was ended since. */
export function ratesHolding(
  rates: readonly Rate[],
  ends: readonly RateEnd[],
  { kind, country }: Pick<AskedRate, "kind" | "country">,
  on: CalendarDate,
): Rate[] {
  const isMeant = (one: Pick<Rate, "kind" | "country">) => one.kind === kind && one.country === country;
  const latest = new Map<string, Rate>();
  for (const rate of rates) {
    if (!isMeant(rate) || compareDates(rate.validFrom, on) > 0) continue;
    const before = latest.get(rate.currency);
    if (before === undefined || compareDates(before.validFrom, rate.validFrom) < 0) latest.set(rate.currency, rate);
  }
  const isEnded = ({ currency, validFrom }: Rate) =>
    ends.some(
      (end) =>
        isMeant(end) &&
        end.currency === currency &&
        compareDates(end.endsOn, on) <= 0 &&
        compareDates(validFrom, end.endsOn) < 0,
    );
  return [...latest.values()].filter((rate) => !isEnded(rate));
}

/** The rate of a country on a day. Where there is none nothing is made up, and where two currencies hold nobody has the choice. */
export function rateOn(
  rates: readonly Rate[],
  ends: readonly RateEnd[],
  { kind, country, currency }: AskedRate,
  on: CalendarDate,
): FoundRate {
  const holding = ratesHolding(rates, ends, { kind, country }, on);
  const what = whatWords[kind];
  const [rate, ...others] = holding;
  if (rate === undefined) {
    const sentence = `No rate for ${what} is set for ${country} on ${sayDate(on)}. Ask finance to set one first.`;
    return { kind: "no-rate", sentence };
  }
  if (others.length > 0) {
    const named = holding.map((one) => one.currency).sort();
    const sentence = `${country} has rates for ${what} in ${named.join(" and ")} on ${sayDate(on)}, and nobody chooses between them. Ask finance to end one.`;
    return { kind: "not-this-currency", sentence };
  }
  if (currency !== "" && currency !== rate.currency) {
    const sentence = `No rate for ${what} is set for ${country} in ${currency} on ${sayDate(on)}, only in ${rate.currency}.`;
    return { kind: "not-this-currency", sentence };
  }
  return { kind: "rate", rate };
}

/**
 * Why a rate may not begin: one in another currency holds then, or begins later. It is ended first, so that no claim has the
 * choice of the better of two.
 */
export function whyNoSecondCurrency(
  rates: readonly Rate[],
  ends: readonly RateEnd[],
  { kind, country, currency, validFrom }: Pick<Rate, "kind" | "country" | "currency" | "validFrom">,
): string | null {
  const later = rates.filter(
    (rate) => rate.kind === kind && rate.country === country && compareDates(rate.validFrom, validFrom) > 0,
  );
  const other = [...ratesHolding(rates, ends, { kind, country }, validFrom), ...later].find(
    (rate) => rate.currency !== currency,
  );
  return other === undefined
    ? null
    : `Rates for ${whatWords[kind]} in ${country} are in ${other.currency} then. End those from that day first.`;
}
