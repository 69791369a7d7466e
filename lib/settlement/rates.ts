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
  readonly setAt: Date;
}

/**
 * From this day on the maker pays nothing in that currency: what was set before the end holds no longer, nor does it begin later.
 * A rate that is set after the end begins anew.
 */
export interface RateEnd {
  readonly kind: RateKind;
  readonly country: string;
  readonly currency: string;
  readonly endsOn: CalendarDate;
  readonly setAt: Date;
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

type OneCurrency = Pick<Rate, "kind" | "country" | "currency">;

const isAlike = (one: OneCurrency, other: OneCurrency) =>
  one.kind === other.kind && one.country === other.country && one.currency === other.currency;

/** Whether this end ends this rate, on the day of the end or, where it has not begun then, before its first day. */
const endsRate = (end: RateEnd, rate: Rate) =>
  isAlike(end, rate) && (compareDates(rate.validFrom, end.endsOn) < 0 || rate.setAt <= end.setAt);

/** The rates of a country that hold on a day, one a currency: the latest that has begun, of those that were not ended since. */
export function ratesHolding(
  rates: readonly Rate[],
  ends: readonly RateEnd[],
  { kind, country }: Pick<AskedRate, "kind" | "country">,
  on: CalendarDate,
): Rate[] {
  const over = ends.filter(({ endsOn }) => compareDates(endsOn, on) <= 0);
  const latest = new Map<string, Rate>();
  for (const rate of rates) {
    if (rate.kind !== kind || rate.country !== country || compareDates(rate.validFrom, on) > 0) continue;
    if (over.some((end) => endsRate(end, rate))) continue;
    const before = latest.get(rate.currency);
    if (before === undefined || compareDates(before.validFrom, rate.validFrom) < 0) latest.set(rate.currency, rate);
  }
  return [...latest.values()];
}

/** Rates that are on record to begin after a day, and were not ended before they do. */
function ratesToBegin(rates: readonly Rate[], ends: readonly RateEnd[], after: CalendarDate): Rate[] {
  const begins = (rate: Rate) => compareDates(rate.validFrom, after) > 0;
  return rates.filter((rate) => begins(rate) && ratesHolding(rates, ends, rate, rate.validFrom).includes(rate));
}

/**
 * First day on which a rate no longer holds, because it was ended or a later one follows; null where neither is. One that was
 * ended before it began never held: the day is its first or an earlier one.
 */
export function untilOf(rate: Rate, rates: readonly Rate[], ends: readonly RateEnd[]): CalendarDate | null {
  const ended = ends.filter((end) => endsRate(end, rate)).map(({ endsOn }) => endsOn);
  const followed = ratesToBegin(rates, ends, rate.validFrom)
    .filter((later) => isAlike(later, rate))
    .map(({ validFrom }) => validFrom);
  return [...ended, ...followed].sort(compareDates)[0] ?? null;
}

/** Whether an end from that day on would end anything: a rate that holds then, or one that is to begin later. */
export function endsAnything(
  rates: readonly Rate[],
  ends: readonly RateEnd[],
  asked: OneCurrency & Pick<RateEnd, "endsOn">,
): boolean {
  const holding = [...ratesHolding(rates, ends, asked, asked.endsOn), ...ratesToBegin(rates, ends, asked.endsOn)];
  return holding.some((rate) => isAlike(rate, asked));
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
 * Why a rate may not begin: before it ends, one in another currency holds or begins. It is ended first, so that no claim has the
 * choice of the better of two.
 */
export function whyNoSecondCurrency(
  rates: readonly Rate[],
  ends: readonly RateEnd[],
  asked: Pick<Rate, "kind" | "country" | "currency" | "validFrom">,
): string | null {
  const { kind, country, currency, validFrom } = asked;
  const until = ends
    .filter((end) => isAlike(end, asked) && compareDates(end.endsOn, validFrom) > 0)
    .map(({ endsOn }) => endsOn)
    .sort(compareDates)[0];
  const later = ratesToBegin(rates, ends, validFrom).filter(
    (rate) =>
      rate.kind === kind &&
      rate.country === country &&
      (until === undefined || compareDates(rate.validFrom, until) < 0),
  );
  const other = [...ratesHolding(rates, ends, asked, validFrom), ...later].find((rate) => rate.currency !== currency);
  return other === undefined
    ? null
    : `Rates for ${whatWords[kind]} in ${country} are in ${other.currency} then. End those from that day first.`;
}
