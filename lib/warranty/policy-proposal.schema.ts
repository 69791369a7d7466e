import { z } from "zod";
import { whyProposed } from "@/lib/access/why-proposed.schema";
import { dateText } from "./date-text";
import { policyTerms, type StartEvidence, startEvidences } from "./policy.schema";
import { evidenceWords } from "./policy-words";

const wholeNumber = (terms: z.ZodNumber, sentence: string) =>
  z
    .string()
    .trim()
    .regex(/^[0-9]{1,4}$/, sentence)
    .transform(Number)
    .pipe(terms);

/** Kinds of evidence as they are typed, one a line, in the words in which a version says them. */
export function sayEvidenceOrder(order: readonly StartEvidence[]): string {
  return order.map((kind) => evidenceWords[kind]).join("\n");
}

/** Never filled in where it is missing: an order nobody wrote down would be a promise nobody made. */
const evidenceLines = z
  .string("Write the kinds of evidence, best first.")
  .transform((text, context) => {
    const lines = text.split("\n").map((line) => line.trim().toLowerCase());
    const order = lines
      .filter((line) => line !== "")
      .map((line) => startEvidences.find((kind) => evidenceWords[kind] === line) ?? line);
    const unknown = order.find((kind) => !startEvidences.some((known) => known === kind));
    if (unknown === undefined) return order;
    context.addIssue({
      code: "custom",
      message: `“${unknown}” is none of the kinds: move the lines, leave their words.`,
    });
    return z.NEVER;
  })
  .pipe(policyTerms.evidenceOrder);

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
  evidenceOrder: evidenceLines,
  why: whyProposed,
});

export type PolicyProposal = z.output<typeof policyProposalSchema>;
export type PolicyProposalInput = z.input<typeof policyProposalSchema>;
