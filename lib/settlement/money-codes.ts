import { z } from "zod";

const currencies: ReadonlySet<string> = new Set(Intl.supportedValuesOf("currency"));

/** Whether three letters are a currency of ISO 4217, one that was given up too: old lines and contracts name such. */
export function isCurrency(code: string): boolean {
  return currencies.has(code);
}

/** A currency as it is typed, in capitals; `missing` is said where the letters are none. */
export function currencyField(missing: string) {
  return z.string(missing).trim().toUpperCase().refine(isCurrency, missing);
}
