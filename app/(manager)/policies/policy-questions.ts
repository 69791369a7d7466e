import type { FormQuestion } from "@/app/_components/question-form";
import type { WarrantyPolicy } from "@/lib/warranty/policy.schema";
import { sayEvidenceOrder } from "@/lib/warranty/policy-proposal.schema";

/**
 * The questions of a proposal, each answered as the version in force answers it: what is not touched stays as it is. The
 * server reads them with the policy's own schema.
 */
export function policyQuestions(inForce: WarrantyPolicy): FormQuestion[] {
  return [
    { name: "version", label: "Name of the version", hint: "Short, for example 2027-01." },
    { name: "validFrom", label: "First day", hint: "For packs sold from this day on; today or later.", kind: "date" },
    { name: "months", label: "Months of guarantee", value: String(inForce.months), kind: "number" },
    { name: "graceDays", label: "Days of grace after the end", value: String(inForce.graceDays), kind: "number" },
    {
      name: "weekendEnd",
      value: inForce.weekendEnd,
      label: "A last day on a weekend or a public holiday",
      choices: [
        { value: "as-it-falls", label: "stays where it falls" },
        { value: "next-working-day", label: "lasts until the next working day" },
      ],
    },
    {
      name: "leapDay",
      value: inForce.leapDay,
      label: "A start on 29 February, in a year without that day",
      choices: [
        { value: "february-28", label: "ends on 28 February" },
        { value: "march-1", label: "ends on 1 March" },
      ],
    },
    {
      name: "replacementRule",
      value: inForce.replacementRule,
      label: "A replacement is covered for",
      choices: [
        { value: "remainder", label: "the rest of the first pack's time" },
        { value: "minimum", label: "the rest, and at least some time from delivery" },
        { value: "restart", label: "a full new term" },
      ],
    },
    {
      name: "minimumDays",
      label: "At least so many days from delivery",
      value: String(inForce.minimumDays),
      kind: "number",
    },
    {
      name: "minimumMonths",
      label: "At least so many months from delivery",
      value: String(inForce.minimumMonths),
      kind: "number",
    },
    {
      name: "clockStop",
      value: inForce.clockStop,
      label: "Days the customer is without the pack",
      choices: [
        { value: "never", label: "are not added" },
        { value: "while-with-us", label: "are added to the time" },
      ],
    },
    {
      name: "stockAgeCapMonths",
      label: "Months on the shelf, between maker and dealer only",
      hint: "Empty for no limit. It never shortens the customer's time.",
      value: inForce.stockAgeCapMonths === null ? "" : String(inForce.stockAgeCapMonths),
      kind: "number",
    },
    {
      name: "evidenceGapDays",
      label: "Days of delivery may differ by",
      hint: "Up to so many days the customer's favour decides; beyond, somebody asks.",
      value: String(inForce.evidenceGapDays),
      kind: "number",
    },
    {
      name: "evidenceOrder",
      label: "What the start is taken from, best first",
      hint: "One kind a line: move the lines, leave their words. The best that is known counts; days that differ are read as the gap above says.",
      value: sayEvidenceOrder(inForce.evidenceOrder),
      kind: "long",
      rows: inForce.evidenceOrder.length + 1,
    },
    { name: "why", label: "Why", hint: "The approver has only this.", kind: "long" },
  ];
}
