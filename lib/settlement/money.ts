/**
 * Digits behind the point by ISO 4217, table A.1, where they are not two (from memory: verify). `Intl` is no source for them: it
 * counts what people write, and gives the Iraqi dinar and the forint none.
 */
const MINOR_DIGITS: readonly { readonly digits: 0 | 3; readonly currencies: readonly string[] }[] = [
  {
    digits: 0,
    currencies: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF".split(" "),
  },
  { digits: 3, currencies: "BHD IQD JOD KWD LYD OMR TND".split(" ") },
];

export function minorDigits(currency: string): 0 | 2 | 3 {
  return MINOR_DIGITS.find(({ currencies }) => currencies.includes(currency))?.digits ?? 2;
}

/** An amount as people write it, with a point or a comma: 1234.50, 1234,5 or 1234; three decimals where the currency has them. */
export const typedAmount = /^[0-9]{1,7}([.,][0-9]{1,3})?$/;

/** What was typed, in the smallest unit; null where it is no amount of this currency: 12.50 yen is none. */
export function readAmount(typed: string, currency: string): number | null {
  const text = typed.trim().replace(",", ".");
  const decimals = text.split(".")[1]?.length ?? 0;
  const digits = minorDigits(currency);
  return typedAmount.test(text) && decimals <= digits ? Math.round(Number(text) * 10 ** digits) : null;
}

/** "1,234.50 EUR": the amount with its currency by code, so that no sign can be mistaken for another country's. */
export function sayMoney(amountMinor: number, currency: string): string {
  return `${plainAmount(amountMinor, currency).replace(/\B(?=([0-9]{3})+(?![0-9]))(?<!\.[0-9]*)/g, ",")} ${currency}`;
}

/** The same as a language writes numbers: "1.234,50 EUR" in German. */
export function sayMoneyIn(language: string, amountMinor: number, currency: string): string {
  const digits = minorDigits(currency);
  const form = { minimumFractionDigits: digits, maximumFractionDigits: digits, useGrouping: true };
  return `${(amountMinor / 10 ** digits).toLocaleString(language, form)} ${currency}`;
}

/** "1,230 EUR": an estimate to three digits, because more would claim what nobody knows. */
export function sayRoundMoney(amountMinor: number, currency: string): string {
  return `${roundAmount(amountMinor, currency)} ${currency}`;
}

/** The same without its currency, where that is said once for several. */
export function roundAmount(amountMinor: number, currency: string): string {
  const units = Math.round(Number((amountMinor / 10 ** minorDigits(currency)).toPrecision(3)));
  return String(units).replace(/\B(?=([0-9]{3})+$)/g, ",");
}

/** "1234.50", for files. */
export function plainAmount(amountMinor: number, currency: string): string {
  if (!Number.isSafeInteger(amountMinor)) throw new RangeError(`amountMinor: a whole number, not ${amountMinor}`);
  const digits = minorDigits(currency);
  const text = String(Math.abs(amountMinor)).padStart(digits + 1, "0");
  const whole = text.slice(0, text.length - digits);
  const sign = amountMinor < 0 ? "-" : "";
  return digits === 0 ? `${sign}${whole}` : `${sign}${whole}.${text.slice(-digits)}`;
}

/** What some minutes cost at a rate an hour, rounded half up to the smallest unit. */
export function labourAmount(minutes: number, hourMinor: number): number {
  if (!Number.isInteger(minutes) || minutes < 1)
    throw new RangeError(`minutes: a whole number above 0, not ${minutes}`);
  return Math.floor((minutes * hourMinor * 2 + 60) / 120);
}
