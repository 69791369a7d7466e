import type { FormQuestion } from "@/app/_components/question-form";
import type { LegalDuty } from "@/lib/warranty/legal-duty";
import { writeSources } from "@/lib/warranty/legal-duty.schema";

const yesOrNo = [
  { value: "no", label: "No" },
  { value: "yes", label: "Yes" },
];
const word = (is: boolean | undefined) => (is === true ? "yes" : "no");
const number = (of: number | null | undefined) => (of === null || of === undefined ? "" : String(of));

/** The questions of a proposal, each answered as the row does that it would replace; the server reads them with the schema of the proposal. */
export function dutyQuestions(country: string, from: LegalDuty | null): FormQuestion[] {
  return [
    { name: "version", label: "Name of the row", hint: `Short, for example ${country}-2027.` },
    {
      name: "salesFrom",
      label: "For packs sold from this day on",
      hint: "May lie in the past: the day from which the law holds for a sale.",
      kind: "date",
      value: from?.salesFrom ?? "",
    },
    {
      name: "validFrom",
      label: "First day on which answers are drawn from it",
      hint: "Today or later. Answers given before keep what they said.",
      kind: "date",
    },
    {
      name: "months",
      label: "Months from delivery within which a fault must appear",
      hint: "Empty where the law names no fixed time; then say below what holds in its place.",
      kind: "number",
      value: number(from?.months),
    },
    {
      name: "insteadOfMonths",
      label: "In place of a fixed time",
      kind: "long",
      value: from?.insteadOfMonths ?? "",
    },
    {
      name: "burdenMonths",
      label: "Months in which a fault is taken to have been there at delivery",
      hint: "Empty where the law has no such rule.",
      kind: "number",
      value: number(from?.burdenMonths),
    },
    {
      name: "rejectDays",
      label: "Days in which the consumer may reject the goods outright",
      hint: "Empty where there are none.",
      kind: "number",
      value: number(from?.rejectDays),
    },
    {
      name: "monthsAfterRepair",
      label: "Months by which a repair lengthens the time",
      hint: "Empty where it does not.",
      kind: "number",
      value: from === null || from.monthsAfterRepair === 0 ? "" : String(from.monthsAfterRepair),
    },
    {
      name: "repairsThatLengthen",
      label: "How many repairs do so",
      hint: "1 where it is lengthened once; empty counts as 1.",
      kind: "number",
      value: String(from?.repairsThatLengthen ?? 1),
    },
    {
      name: "consumerChooses",
      label: "May the consumer choose between repair and replacement?",
      value: word(from?.consumerChooses),
      choices: yesOrNo,
    },
    {
      name: "informBeforeRemedy",
      label: "Must the consumer be told of the choice and of the lengthening before a remedy?",
      value: word(from?.informBeforeRemedy),
      choices: yesOrNo,
    },
    {
      name: "refurbishedOnRequest",
      label: "Does a refurbished replacement need the consumer's own request?",
      value: word(from?.refurbishedOnRequest),
      choices: yesOrNo,
    },
    {
      name: "sources",
      label: "Sources, one a line",
      hint: "The law and its article, then in brackets [read in the text of the law], [read in a summary] or [from memory: verify].",
      kind: "long",
      rows: 5,
      value: from === null ? "" : writeSources(from.sources),
    },
    { name: "why", label: "Why", hint: "The approver has only this and the row.", kind: "long" },
  ];
}

/** What is asked when counsel has compared a row with the law. */
export const counselsWordQuestions: readonly FormQuestion[] = [
  { name: "counselName", label: "Name of counsel" },
  { name: "counselQualification", label: "Where counsel is admitted" },
  { name: "confirmedOn", label: "Day of counsel's word", kind: "date" },
  {
    name: "statement",
    label: "What counsel compared with what and confirmed, and where that is filed",
    kind: "long",
  },
];
