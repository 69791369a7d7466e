const names = new Intl.DisplayNames("en-GB", { type: "region" });

/** A country as people call it, from its two letters (ISO 3166-1 alpha-2); the letters where they name none. */
export function countryName(code: string): string {
  return names.of(code) ?? code;
}
