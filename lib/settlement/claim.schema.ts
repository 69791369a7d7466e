import { z } from "zod";
import { operationCodes, operationOf } from "./operations";

/** A claim as the dealer's form sends it; one schema for form and server. */
export const claimSchema = z
  .object({
    clientKey: z.uuid("Reload the page and try again."),
    reference: z.string().min(1, "Name the return.").max(40),
    kind: z.enum(["labour", "freight"], "Choose what is claimed."),
    operation: z.enum([...operationCodes, ""], "Choose what was done.").default(""),
    currency: z
      .string()
      .trim()
      .toUpperCase()
      .regex(/^([A-Z]{3})?$/, "The currency as three letters, for example EUR, or nothing.")
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
export const rateSchema = z.object({
  kind: z.enum(["labour", "freight"], "Choose labour or freight."),
  country: z
    .string()
    .trim()
    .toUpperCase()
    .regex(/^[A-Z]{2}$/, "The country as two letters, for example DE."),
  currency: z
    .string()
    .trim()
    .toUpperCase()
    .regex(/^[A-Z]{3}$/, "The currency as three letters, for example EUR."),
  amount: z
    .string()
    .trim()
    .regex(/^[0-9]{1,6}([.,][0-9]{1,2})?$/, "An amount such as 62.50.")
    .transform((text) => Number(text.replace(",", ".")))
    .refine((amount) => amount > 0, "An amount above nothing."),
  validFrom: z.string().regex(/^[0-9]{4}-[0-9]{2}-[0-9]{2}$/, "The first day it holds."),
});
