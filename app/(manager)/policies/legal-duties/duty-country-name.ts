import { countryName } from "@/lib/transport/country-name";

/** A country as people call it; the row for states without one of their own says so. */
export function dutyCountryName(country: string): string {
  return country === "EU" ? "European Union, states without a row of their own" : countryName(country);
}
