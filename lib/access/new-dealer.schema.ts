import { z } from "zod";
import { isCountry } from "@/lib/transport/country-name";
import { dateText } from "@/lib/warranty/date-text";
import { isTimeZone } from "@/lib/warranty/place-of-sale";

export const dealerWords = (field: string) =>
  z.string().trim().min(2, `${field}: write it out.`).max(120, `${field}: at most 120 characters.`);

/** A dealer as the administrator adds it. Its country chooses law and rates, its zone the day on which something happened there. */
export const newDealerSchema = z.object({
  code: z
    .string()
    .trim()
    .toUpperCase()
    .regex(/^[A-Z0-9][A-Z0-9-]{0,11}$/, "A short code of letters, digits and dashes, for example NORTH-2."),
  name: dealerWords("Name"),
  town: dealerWords("Town"),
  country: z
    .string()
    .trim()
    .toUpperCase()
    .refine(isCountry, "Give the country by its two letters, for example DE; Great Britain is GB."),
  timeZone: z
    .string()
    .trim()
    .refine(isTimeZone, "There is no such time zone: choose one by its town, for example Europe/Berlin."),
  joinedOn: dateText("Sells our packs since"),
});
export type NewDealer = z.output<typeof newDealerSchema>;
