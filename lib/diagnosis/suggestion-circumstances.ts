import type { Finding, Remedy } from "@/lib/diagnosis/finding";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";

/** Days of use within which a fault is called early. Engineering default, no authority. */
const EARLY_DAYS = 90;

export interface Circumstances {
  readonly reasons: readonly string[];
  readonly plain: readonly string[];
  readonly wouldChange: readonly string[];
}

/**
 * What age, cover and the replacements on record add to a suggestion. None of it changes what is wrong, how dangerous
 * it is, or the remedy: cover says who pays, age says what else to look at, a missing replacement says what to ask first.
 */
export function circumstances(leading: Finding, remedy: Remedy, context: SuggestionContext): Circumstances {
  const parts = [ofReplacement(remedy, context), ofAge(leading, context), ofCover(remedy, context)];
  return {
    reasons: parts.flatMap(({ reasons }) => reasons),
    plain: parts.flatMap(({ plain }) => plain),
    wouldChange: parts.flatMap(({ wouldChange }) => wouldChange),
  };
}

const nothing: Circumstances = { reasons: [], plain: [], wouldChange: [] };

function ofReplacement(remedy: Remedy, { compatibleReplacementKnown }: SuggestionContext): Circumstances {
  if (remedy !== "replace" || compatibleReplacementKnown !== false) return nothing;
  return {
    reasons: ["No compatible replacement is known: find one before promising it."],
    plain: ["Which pack may take its place is not settled yet."],
    wouldChange: ["If no revision may take its place, ask engineering whether it can be repaired after all."],
  };
}

/** Faults that use brings about: that they come early says nothing of the build. */
const broughtByUse: ReadonlySet<string> = new Set(["outside-cause", "over-discharge", "no-fault-found"]);

function ofAge({ fault }: Finding, { ageDays }: SuggestionContext): Circumstances {
  if (ageDays === undefined || ageDays > EARLY_DAYS || broughtByUse.has(fault)) return nothing;
  return {
    reasons: [
      `It has been in use for ${ageDays} ${ageDays === 1 ? "day" : "days"}: a fault this early points to how the pack was built. Keep the pack for examination and look at others of its lots.`,
    ],
    plain: [],
    wouldChange: [],
  };
}

function ofCover(remedy: Remedy, { cover }: SuggestionContext): Circumstances {
  if (remedy === "return-as-is" || cover === undefined || cover === "covered") return nothing;
  if (cover === "not covered") {
    return {
      reasons: [
        "The pack is outside its warranty window: ask before doing paid work. That changes who pays, not what is wrong.",
      ],
      plain: ["It is outside the maker's warranty window, so ask the customer before any paid work."],
      wouldChange: ["Proof of a later start of the cover would change who pays."],
    };
  }
  return {
    reasons: ["Whether the pack is covered cannot be said yet. That settles who pays, not what is wrong."],
    plain: [],
    wouldChange: ["Proof of the sale would settle who pays."],
  };
}
