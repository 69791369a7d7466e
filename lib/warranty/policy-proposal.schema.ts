import { z } from "zod";
import { whyProposed } from "@/lib/access/why-proposed.schema";
import { dateText } from "./date-text";
import { policyTerms, startEvidences } from "./policy.schema";

const wholeNumber = (terms: z.ZodNumber, sentence: string) =>
  z
    .string()
    .trim()
    .regex(/^[0-9]{1,4}$/, sentence)
    .transform(Number)
    .pipe(terms);

/** A proposed version as the form sends it: texts, read to the terms of a policy. One schema for form and server. */
export const policyProposalSchema = z.object({
  version: z
    .string()
    .trim()
    .regex(/^[0-9A-Za-z][0-9A-Za-z .-]{1,38}$/, "A short name such as 2027-01."),
  validFrom: dateText("The first day"),
  months: wholeNumber(policyTerms.months, "Months as a whole number."),
  graceDays: wholeNumber(policyTerms.graceDays, "Days as a whole number."),
  leapDay: policyTerms.leapDay,
  stockAgeCapMonths: z
    .string()
    .trim()
    .regex(/^([0-9]{1,3})?$/, "Months as a whole number, or nothing for no limit.")
    .transform((text) => (text === "" ? null : Number(text)))
    .pipe(policyTerms.stockAgeCapMonths.nullable()),
  replacementRule: policyTerms.replacementRule,
  minimumDays: wholeNumber(policyTerms.minimumDays, "Days as a whole number."),
  minimumMonths: wholeNumber(policyTerms.minimumMonths, "Months as a whole number."),
  weekendEnd: policyTerms.weekendEnd,
  clockStop: policyTerms.clockStop,
  evidenceGapDays: wholeNumber(policyTerms.evidenceGapDays, "Days as a whole number."),
  evidenceOrder: z
    .string()
    .transform((text) => text.split(","))
    .pipe(policyTerms.evidenceOrder)
    .default([...startEvidences]),
  why: whyProposed,
});

export type PolicyProposal = z.output<typeof policyProposalSchema>;
export type PolicyProposalInput = z.input<typeof policyProposalSchema>;
