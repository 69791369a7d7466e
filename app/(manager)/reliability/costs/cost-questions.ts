import type { FormQuestion } from "@/app/_components/question-form";
import { decidableRemedies, remedyLabels } from "@/lib/returns/decision.schema";
import { costParts, costPartWords } from "@/lib/settlement/cost-assumption";

/** The questions of a proposed cost. The server reads them with the cost's own schema. */
export function costQuestions(models: readonly string[], currency: string): readonly FormQuestion[] {
  return [
    { name: "part", label: "Which part", choices: costParts.map((value) => ({ value, label: costPartWords[value] })) },
    {
      name: "remedy",
      label: "Of a return decided as",
      choices: decidableRemedies.map((value) => ({ value, label: remedyLabels[value] })),
    },
    {
      name: "model",
      label: "Model",
      choices: [{ value: "", label: "every model" }, ...models.map((value) => ({ value, label: value }))],
    },
    { name: "country", label: "Country", hint: "Two letters, for example DE; empty for every country." },
    { name: "currency", label: "Currency", value: currency, hint: "Three letters." },
    { name: "mean", label: "Mean of one return", hint: "For example 62.50." },
    {
      name: "spread",
      label: "Spread from one return to another",
      hint: "Standard deviation; 0 where all cost the same.",
    },
    { name: "cases", label: "Worked out from so many returns", value: "0", hint: "0 for an estimate.", kind: "number" },
    {
      name: "error",
      label: "How far the mean may be off",
      hint: "One standard error. From 2 returns on it is worked out, and this may stay empty.",
    },
    { name: "validFrom", label: "From", hint: "A cost is never changed; a later one follows it.", kind: "date" },
    { name: "why", label: "Where it comes from", hint: "The approver has only this.", kind: "long" },
  ];
}

export const rateQuestions: readonly FormQuestion[] = [
  { name: "currency", label: "Currency", hint: "Three letters, for example USD." },
  { name: "rate", label: "One of it is worth", hint: "In the reporting currency, for example 0.92." },
  { name: "validFrom", label: "From", hint: "A rate is never changed; a later one follows it.", kind: "date" },
  { name: "source", label: "Where it was published", hint: "So that a second person can look it up." },
];
