const names = new Intl.DisplayNames("en-GB", { type: "region" });

/**
 * Two letters that name something and are no country: groups of countries, made-up places of tests, and dependencies that ISO
 * 3166-1 only reserves (its exceptional reservations, from memory: verify; the count of the rest is held against ISO in the tests).
 */
const noCountries: readonly string[] = "AC CP CQ DG EA EU EZ IC QO TA UN XA XB ZZ".split(" ");
const known = new Intl.DisplayNames("en-GB", { type: "region", fallback: "none" });

/** Whether two letters are a country's own: "UK" is understood by many and is none, "GB" is. */
export function isCountry(code: string): boolean {
  if (!/^[A-Z]{2}$/.test(code) || noCountries.includes(code) || known.of(code) === undefined) return false;
  return new Intl.Locale(`und-${code}`).region === code;
}

/** A country as people call it, from its two letters (ISO 3166-1 alpha-2); the letters where they name none. */
export function countryName(code: string): string {
  return names.of(code) ?? code;
}
