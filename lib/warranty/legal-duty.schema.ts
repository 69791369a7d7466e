import { z } from "zod";
import { whyProposed } from "@/lib/access/why-proposed.schema";
import { storableText } from "@/lib/returns/storable-text";
import { isCountry } from "@/lib/transport/country-name";
import { dateText } from "./date-text";
import { type LegalSource, sourceMarks } from "./legal-duty";

/** Bounds that keep every date inside the calendar; engineering defaults. */
const MOST_MONTHS = 600;
const MOST_DAYS = 3660;
const MOST_REPAIRS = 100;

/** What a row says besides its country and days, as it is kept. */
export const legalDutyContentSchema = z.object({
  months: z.int().min(1).max(MOST_MONTHS).nullable(),
  insteadOfMonths: z.string().min(10).max(400).nullable(),
  burdenMonths: z.int().min(1).max(MOST_MONTHS).nullable(),
  rejectDays: z.int().min(1).max(MOST_DAYS).nullable(),
  monthsAfterRepair: z.int().min(0).max(MOST_MONTHS),
  /** Rows kept before this was asked know of one repair. */
  repairsThatLengthen: z.int().min(1).max(MOST_REPAIRS).default(1),
  /** Rows kept before this was asked say nothing of it. */
  consumerChooses: z.boolean().default(false),
  informBeforeRemedy: z.boolean(),
  refurbishedOnRequest: z.boolean(),
  sources: z.array(z.object({ named: z.string().min(3).max(400), mark: z.enum(sourceMarks) })).min(1),
});

const numberOrNothing = (most: number) =>
  z
    .string()
    .trim()
    .regex(/^([1-9][0-9]{0,3})?$/, "A whole number from 1, or nothing where the law has no such rule.")
    .transform((text) => (text === "" ? null : Number(text)))
    .pipe(z.int().max(most, `At most ${most}.`).nullable());

const yesOrNo = z.enum(["yes", "no"], "Choose yes or no.").transform((word) => word === "yes");

/** Sources as they are typed, one a line, each with its mark in brackets. */
export function writeSources(sources: readonly LegalSource[]): string {
  return sources.map(({ named, mark }) => `${named} [${mark}]`).join("\n");
}

const sourceLines = z.string("Name the source.").transform((typed, context) => {
  const sources: LegalSource[] = [];
  for (const [index, line] of typed.split(/\r?\n/).entries()) {
    if (line.trim() === "") continue;
    const read = /^(.{3,400}?)\s*\[([^\]]+)\]\s*$/.exec(line.trim());
    const mark = sourceMarks.find((known) => known === read?.[2]?.trim().toLowerCase());
    const named = read?.[1];
    if (named === undefined || mark === undefined) {
      const known = sourceMarks.map((one) => `[${one}]`).join(", ");
      context.addIssue({
        code: "custom",
        message: `Line ${index + 1}: name the law, and end the line with one of ${known}.`,
      });
    } else sources.push({ named, mark });
  }
  if (sources.length === 0) context.addIssue({ code: "custom", message: "A row of law names its source." });
  return sources;
});

/** A proposed row as the form sends it; one schema for form and server. */
export const legalDutyProposalSchema = z
  .object({
    version: z
      .string()
      .trim()
      .regex(/^[0-9A-Za-z][0-9A-Za-z .-]{1,38}$/, "A short name such as DE-2027.")
      .refine((name) => name.toLowerCase() !== "set-up", "This name is taken by what the program comes with."),
    country: z
      .string()
      .trim()
      .toUpperCase()
      .refine((code) => code === "EU" || isCountry(code), "Two letters of a country, for example DE."),
    salesFrom: dateText("The first day of sale"),
    validFrom: dateText("The first day"),
    months: numberOrNothing(MOST_MONTHS),
    insteadOfMonths: z
      .string()
      .trim()
      .max(400, "At most 400 characters.")
      .transform((text) => (text === "" ? null : text))
      .pipe(z.string().min(10, "Say it in a sentence.").nullable()),
    burdenMonths: numberOrNothing(MOST_MONTHS),
    rejectDays: numberOrNothing(MOST_DAYS),
    monthsAfterRepair: numberOrNothing(MOST_MONTHS).transform((months) => months ?? 0),
    repairsThatLengthen: numberOrNothing(MOST_REPAIRS)
      .default(1)
      .transform((repairs) => repairs ?? 1),
    consumerChooses: yesOrNo,
    informBeforeRemedy: yesOrNo,
    refurbishedOnRequest: yesOrNo,
    sources: sourceLines,
    why: whyProposed,
  })
  .superRefine(({ months, insteadOfMonths }, context) => {
    if ((months === null) === (insteadOfMonths === null))
      context.addIssue({
        code: "custom",
        path: ["insteadOfMonths"],
        message: "Give the months, or say in a sentence what holds in their place: one of the two.",
      });
  });
export type LegalDutyProposal = z.output<typeof legalDutyProposalSchema>;

/** What a manager records when counsel has compared a row with the law. */
export const counselsWordSchema = z.object({
  fingerprint: z.string().regex(/^[0-9a-f]{64}$/, "Open the page again: it does not say which row is meant."),
  counselName: storableText({ least: 3, most: 120, tooShort: "Name counsel.", tooLong: "At most 120 characters." }),
  counselQualification: storableText({
    least: 3,
    most: 200,
    tooShort: "Say where counsel is admitted.",
    tooLong: "At most 200 characters.",
  }),
  confirmedOn: dateText("The day of counsel's word"),
  statement: storableText({
    least: 10,
    most: 2000,
    tooShort: "Write what counsel compared with what and confirmed, and where that is filed.",
    tooLong: "At most 2000 characters.",
  }),
});
export type CounselsWordTyped = z.output<typeof counselsWordSchema>;
