import { z } from "zod";
import { storableText } from "@/lib/returns/storable-text";
import { whereSound } from "@/lib/returns/where-sound";
import { isCountry } from "@/lib/transport/country-name";
import { isCalendarDate } from "@/lib/warranty/calendar";
import { readAmount, typedAmount } from "./money";
import { currencyField, isCurrency } from "./money-codes";
import { operationCodes, operationOf } from "./operations";
import { rateKinds } from "./rates";

/** A claim as the dealer's form sends it; one schema for form and server. */
export const claimSchema = z
  .object({
    clientKey: z.uuid("Reload the page and try again."),
    reference: z.string().min(1, "Name the return.").max(40),
    kind: z.enum(["labour", "freight"], "Choose what is claimed."),
    operation: z.enum([...operationCodes, ""], "Choose what was done.").default(""),
    /** That of the rate is meant where none is named: one that has no rate is refused, and none is chosen. */
    currency: z
      .string()
      .trim()
      .toUpperCase()
      .refine((code) => code === "" || isCurrency(code), "The currency as three letters, for example EUR, or nothing.")
      .default(""),
    minutes: z.coerce.number("Minutes as a whole number.").int("Minutes as a whole number.").min(0).max(600).default(0),
  })
  .superRefine(({ kind, operation, minutes }, context) => {
    if (kind === "freight") return;
    const known = operationOf(operation);
    if (known === null) {
      context.addIssue({ code: "custom", path: ["operation"], message: "Choose what was done." });
      return;
    }
    if (minutes < 1) context.addIssue({ code: "custom", path: ["minutes"], message: "Give the minutes it took." });
    if (minutes > known.minutesAllowed) {
      const message = `At most ${known.minutesAllowed} minutes are paid for this work.`;
      context.addIssue({ code: "custom", path: ["minutes"], message });
    }
  });

export type Claim = z.output<typeof claimSchema>;

/** What finance types to set a rate. */
const ofRate = {
  kind: z.enum(rateKinds, "Choose labour or freight."),
  country: z.string().trim().toUpperCase().refine(isCountry, "The country as two letters, for example DE."),
  currency: currencyField("A currency as three letters, for example EUR."),
};

export const rateSchema = z
  .object({
    ...ofRate,
    amount: z.string().trim().regex(typedAmount, "An amount such as 62.50."),
    validFrom: z.string("The first day it holds.").refine(isCalendarDate, "The first day it holds."),
  })
  .refine(({ amount, currency }) => (readAmount(amount, currency) ?? 0) > 0, {
    path: ["amount"],
    when: whereSound("amount", "currency"),
    message: "An amount above nothing, with as many decimals as the currency has: yen, for example, have none.",
  })
  .transform(({ amount, ...rate }) => ({ ...rate, amountMinor: readAmount(amount, rate.currency) ?? 0 }));

/** What finance types to end the rates of a country in one currency. */
export const rateEndSchema = z.object({
  ...ofRate,
  endsOn: z
    .string("The first day on which it no longer holds.")
    .refine(isCalendarDate, "The first day on which it no longer holds."),
  why: storableText({ least: 3, most: 300, tooShort: "Write why.", tooLong: "This is longer than 300 characters." }),
});
