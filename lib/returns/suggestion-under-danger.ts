import type { Finding, Suggestion } from "@/lib/diagnosis/finding";
import { leavesUnseen } from "@/lib/diagnosis/remedy-of-all";
import { suggest } from "@/lib/diagnosis/suggest";
import { defaultVerdictThresholds } from "@/lib/diagnosis/verdict-thresholds";
import { type Danger, dangerLabels } from "./danger-signs";

/**
 * What the readings suggest, seen together with what the dealer saw. A sign of danger outweighs a quiet log: swelling,
 * leakage and a blow leave no trace in readings, so with any of them the pack is isolated until a person has judged it.
 */
export function suggestionUnderDanger(suggestion: Suggestion, danger: Danger): Suggestion {
  if (danger.kind === "none" || suggestion.remedy === "isolate") return suggestion;
  const seen = danger.signs.map((sign) => dangerLabels[sign].toLowerCase()).join("; ");
  return {
    ...suggestion,
    remedy: "isolate",
    reasons: [
      `Seen on the pack: ${seen}. Readings cannot show this, so it outweighs them until a person has judged it.`,
      ...suggestion.reasons,
    ],
    plainReasons: [
      `Seen on the pack: ${seen}. That outweighs the readings until a person has judged it.`,
      "Set it apart from everything else. Do not charge it, use it or send it.",
    ],
    wouldChange: ["Nothing in a file changes this. A named person who has examined the pack may."],
  };
}

/** A suggestion as it is shown: with its reasons, and by which rules. */
export type SuggestionShown = Pick<Suggestion, "reasons" | "plainReasons" | "wouldChange" | "ruleVersion"> & {
  readonly remedy: string;
};

/**
 * What the readings suggest, seen together with what the bench found on the case, which no readings show: a graver remedy of that
 * takes its place, also where there are no readings; else it stands among the reasons.
 */
export function suggestionUnderCase(
  suggestion: SuggestionShown | null,
  ofCase: Finding | null,
): SuggestionShown | null {
  if (ofCase === null) return suggestion;
  const nothingElse = { misfit: null, missing: [], unseen: [] };
  const own = suggest([ofCase], nothingElse, defaultVerdictThresholds.suggestConfidence);
  if (suggestion === null) return own;
  const found = ofCase.evidenceFor.map((sentence) => `Found on the case: ${sentence}`);
  const isOutweighed = own.remedy === "isolate" || leavesUnseen(suggestion.remedy);
  if (suggestion.remedy === "isolate" || !isOutweighed)
    return { ...suggestion, reasons: [...suggestion.reasons, ...found] };
  return { ...own, reasons: [...own.reasons, ...suggestion.reasons], ruleVersion: suggestion.ruleVersion };
}
