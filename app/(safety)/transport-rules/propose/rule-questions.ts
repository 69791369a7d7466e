import type { FormQuestion } from "@/app/_components/question-form";
import type { RuleField } from "@/lib/transport/rule-fields";

const head: readonly FormQuestion[] = [
  { name: "version", label: "Name of the version", hint: "Short, for example 2027-1." },
  { name: "validFrom", label: "First day", hint: "Today or later.", kind: "date" },
  { name: "why", label: "Why", hint: "The approver has only this and the list of changes.", kind: "long" },
];

/** The questions of a proposal: every field of the rules in force, folded by section. */
export function ruleQuestions(fields: readonly RuleField[]): FormQuestion[] {
  return [
    ...head,
    ...fields.map(({ name, section, label, kind, text }): FormQuestion => {
      const asked = { name, section, label, value: text };
      if (kind === "plain" || kind === "countries") return asked;
      if (kind === "number") return { ...asked, kind: "decimal" };
      const rows = Math.min(
        14,
        text.split("\n").reduce((sum, line) => sum + Math.ceil((line.length + 1) / 60), 1),
      );
      return { ...asked, kind: "long", rows: Math.max(2, rows) };
    }),
  ];
}
