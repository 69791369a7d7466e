import type { FormQuestion } from "@/app/_components/question-form";
import { noSource } from "@/lib/diagnosis/threshold-field";
import {
  byFullName,
  type NamedThreshold,
  namedThresholds,
  sayThreshold,
  sayWithUnit,
} from "@/lib/diagnosis/threshold-fields";
import type { ModelThresholds } from "@/lib/packs/pack-model";

/** The questions of a proposal: every threshold under its subject, filled in with what the newest version says. */
export function thresholdQuestions(newest: ModelThresholds): FormQuestion[] {
  const own = byFullName(newest);
  return [
    ...namedThresholds.map((one): FormQuestion => {
      const value = own.get(one.name);
      return {
        name: one.name,
        label: `${one.label}, ${one.unit}`,
        hint: hintOf(one, value !== undefined),
        value: sayThreshold(value ?? one.usual),
        section: one.subject,
        ...(typeof one.usual === "number" ? { kind: "decimal" as const } : {}),
      };
    }),
    { name: "validFrom", label: "First day", hint: "Today or later, after the version it builds on.", kind: "date" },
    { name: "why", label: "Why", hint: "The approver has only this.", kind: "long" },
  ];
}

function hintOf(one: NamedThreshold, isOwn: boolean): string {
  const usual = `Usually ${sayWithUnit(one.usual, one)}${isOwn ? ", here otherwise" : ""}.`;
  // That a value has no source is said once for all of them.
  const source = one.source === noSource ? "" : ` ${one.source}`;
  return `${usual}${source} Allowed: ${sayThreshold(one.lowest)} to ${sayThreshold(one.highest)}.`;
}
