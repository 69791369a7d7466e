import { z } from "zod";
import { decidableRemedies } from "@/lib/returns/decision.schema";
import { storableText } from "@/lib/returns/storable-text";
import { costParts } from "./cost-assumption";

const amount = (what: string) =>
  z
    .string(`${what} such as 62.50.`)
    .trim()
    .regex(/^[0-9]{1,7}([.,][0-9]{1,2})?$/, `${what} such as 62.50.`)
    .transform((text) => Number(text.replace(",", ".")));

const day = z.string("The first day it holds.").regex(/^[0-9]{4}-[0-9]{2}-[0-9]{2}$/, "The first day it holds.");

const currency = z
  .string()
  .trim()
  .toUpperCase()
  .regex(/^[A-Z]{3}$/, "The currency as three letters, for example EUR.");

/** What a manager types to propose the cost of one return; one schema for form and server. */
export const costAssumptionSchema = z
  .object({
    part: z.enum(costParts, "Choose which part of the cost."),
    remedy: z.enum(decidableRemedies, "Choose the remedy."),
    model: z.string().trim().max(20).default(""),
    country: z
      .string()
      .trim()
      .toUpperCase()
      .regex(/^([A-Z]{2})?$/, "The country as two letters, or empty for all.")
      .default(""),
    currency,
    mean: amount("The mean"),
    spread: amount("The spread"),
    cases: z.coerce.number("A whole number.").int("A whole number.").min(0, "0 or more.").max(1_000_000).default(0),
    error: amount("How far the mean may be off").or(z.literal("").transform(() => null)),
    validFrom: day,
    why: storableText({
      least: 10,
      most: 500,
      tooShort: "Say where the amount comes from: the approver has only this.",
      tooLong: "At most 500 characters.",
    }),
  })
  .superRefine(({ mean, cases, error }, context) => {
    if (mean <= 0) context.addIssue({ code: "custom", path: ["mean"], message: "A mean above nothing." });
    if (cases < 2 && error === null) {
      const message = "Without cases to work it out from, say how far the mean may be off.";
      context.addIssue({ code: "custom", path: ["error"], message });
    }
  });

export type CostAssumptionProposal = z.output<typeof costAssumptionSchema>;

/** What finance types to set the rate of a currency. */
export const exchangeRateSchema = z.object({
  currency,
  rate: z
    .string()
    .trim()
    .regex(/^[0-9]{1,6}([.,][0-9]{1,8})?$/, "A rate such as 0.92.")
    .transform((text) => Number(text.replace(",", ".")))
    .refine((rate) => rate > 0, "A rate above nothing."),
  validFrom: day,
  source: storableText({
    least: 3,
    most: 200,
    tooShort: "Say where the rate was published.",
    tooLong: "At most 200 characters.",
  }),
});

export type ExchangeRateInput = z.output<typeof exchangeRateSchema>;
