import type { Suggestion } from "@/lib/diagnosis/finding";
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
