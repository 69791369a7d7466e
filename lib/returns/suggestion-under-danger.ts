import { ruleVersion } from "@/lib/diagnosis/diagnosis-settings";
import type { Finding, Suggestion } from "@/lib/diagnosis/finding";
import { plainIsolation } from "@/lib/diagnosis/plain-reasons";
import { leavesUnseen } from "@/lib/diagnosis/remedy-of-all";
import { suggest } from "@/lib/diagnosis/suggest";
import { testLeads } from "@/lib/diagnosis/test-leads";
import { defaultVerdictThresholds } from "@/lib/diagnosis/verdict-thresholds";
import { type Danger, dangerLabels } from "./danger-signs";

/**
 * What the readings suggest, seen together with what the dealer saw. A sign of danger outweighs a quiet log: swelling,
 * leakage and a blow leave no trace in readings, so with any of them the pack is isolated until a person has judged it.
 */
export function suggestionUnderDanger(suggestion: Suggestion, danger: Danger): Suggestion {
  if (danger.kind === "none" || suggestion.remedy === "isolate") return suggestion;
  const seen = seenOnPack(danger);
  return {
    ...suggestion,
    remedy: "isolate",
    reasons: [`${seen} ${outweighs}`, ...testsHeldBack(suggestion.reasons)],
    plainReasons: [`${seen} ${outweighs}`, plainIsolation.critical],
    wouldChange: [changedByPerson],
  };
}

function seenOnPack({ signs }: Exclude<Danger, { readonly kind: "none" }>): string {
  return `Seen on the pack: ${signs.map((sign) => dangerLabels[sign].toLowerCase()).join("; ")}.`;
}

const outweighs = "Readings cannot show this, so it outweighs them until a person has judged it.";
const changedByPerson = "Nothing in a file changes this. A named person who has examined the pack may.";

/** A cycle or a load that the readings ask for is no task while nobody may touch the pack; it stays said, for whoever judges it. */
function testsHeldBack(reasons: readonly string[]): string[] {
  return reasons.map((reason) => {
    const lead = Object.values(testLeads).find((one) => reason.startsWith(one));
    return lead === undefined
      ? reason
      : `Not before a trained person has judged the pack: ${reason.slice(lead.length)}`;
  });
}

/** A suggestion as it is shown: with its reasons, and by which rules. */
export type SuggestionShown = Pick<Suggestion, "reasons" | "plainReasons" | "wouldChange" | "ruleVersion"> & {
  readonly remedy: string;
};

/**
 * What the readings suggest, seen together with what the bench found on the case, which no readings show: a graver remedy of that
 * takes its place, also where there are no readings; else it stands among the reasons.
 */
function suggestionUnderCase(suggestion: SuggestionShown | null, ofCase: Finding | null): SuggestionShown | null {
  if (ofCase === null) return suggestion;
  const nothingElse = { misfit: null, missing: [], unseen: [] };
  const own = suggest([ofCase], nothingElse, defaultVerdictThresholds.suggestConfidence);
  if (suggestion === null) return own;
  const found = ofCase.evidenceFor.map((sentence) => `Found on the case: ${sentence}`);
  const isOutweighed = own.remedy === "isolate" || leavesUnseen(suggestion.remedy);
  if (suggestion.remedy === "isolate" || !isOutweighed)
    return { ...suggestion, reasons: [...suggestion.reasons, ...found] };
  const theirs = own.remedy === "isolate" ? testsHeldBack(suggestion.reasons) : suggestion.reasons;
  return { ...own, reasons: [...own.reasons, ...theirs], ruleVersion: suggestion.ruleVersion };
}

/** What is known of a pack beside its readings, as far as nobody has judged it since. */
export interface FoundBeside {
  /** What the dealer told with the return. */
  readonly told: Danger;
  /** What was found with the pack in hand, a sentence each. */
  readonly inHand: readonly string[];
  readonly ofCase: Finding | null;
}

/**
 * What is suggested for a return as it stands: the suggestion kept with its newest readings, which has what the dealer told in it,
 * seen together with what was found on the case and in hand. Null where there is none of these. The one answer that page, second
 * person and history go by.
 */
export function suggestionAsItStands(
  kept: SuggestionShown | null,
  { told, inHand, ofCase }: FoundBeside,
): SuggestionShown | null {
  const ofDealer = kept === null && told.kind !== "none" ? [seenOnPack(told)] : [];
  const seen = [...ofDealer, ...inHand];
  const standing = suggestionUnderCase(kept, ofCase);
  const [first, ...others] = seen;
  if (first === undefined) return standing;
  if (standing?.remedy === "isolate") return { ...standing, reasons: [...standing.reasons, ...seen] };
  return {
    remedy: "isolate",
    reasons: [`${first} ${outweighs}`, ...others, ...testsHeldBack(standing?.reasons ?? [])],
    plainReasons: [`${first} ${outweighs}`, ...others, plainIsolation.critical],
    wouldChange: [changedByPerson],
    ruleVersion: standing?.ruleVersion ?? ruleVersion,
  };
}
