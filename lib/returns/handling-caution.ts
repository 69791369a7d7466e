import { dangerTold } from "./danger-signs";
import { classToHandleBy } from "./queue-risk";
import { dangerNow, type SafetyState } from "./safety-track";

export interface HandlingCaution {
  readonly kind: "danger" | "caution";
  readonly title: string;
  /** Whose word comes before ours; always said first. */
  readonly deferral: string;
  readonly handling: string;
}

interface CautionFacts {
  readonly dangerSigns: readonly string[];
  readonly safetyClasses: readonly string[];
  /** How the pack is flagged now, whatever was told when it was lodged. */
  readonly flag: SafetyState;
  readonly suggestedRemedy: string | null;
}

export const DEFERRAL =
  "The local rules, the fire service's advice and the people trained for damaged packs come before anything said here.";

/**
 * What is said before anyone handles the pack: by danger signs, the gravest class among the findings, its flag, and a
 * suggestion to isolate. Null only where the readings show no sign of damage, say what is to be done, and nobody told of a sign.
 * Content: common practice in handling damaged lithium packs, no single source.
 */
export function handlingCaution(facts: CautionFacts): HandlingCaution | null {
  const told = dangerTold(facts.dangerSigns).kind;
  const danger = dangerNow(told, facts.flag);
  const worst = classToHandleBy(facts.safetyClasses, facts.suggestedRemedy);
  if (danger === "keep-away" || worst === "A0") {
    return {
      kind: "danger",
      title: "Nobody handles this pack now",
      deferral: DEFERRAL,
      handling:
        "Keep people away and the ways out free. Call the fire service on heat, smoke, smell or noise. It is not opened, charged, discharged, carried or sent.",
    };
  }
  if (danger === "set-apart" || worst === "A1" || facts.suggestedRemedy === "isolate") {
    return {
      kind: "danger",
      title: "Set apart: only trained persons handle this pack",
      deferral: DEFERRAL,
      handling:
        "It stays in its quarantine place, watched. It is not charged, discharged, opened or moved until a trained person has judged it and the packing is named.",
    };
  }
  if (worst === "C") return null;
  return {
    kind: "caution",
    title: worst === "B" ? "Treated as damaged or defective" : "Cannot be judged yet, so treated as damaged",
    deferral: DEFERRAL,
    handling:
      "Look for heat, smell, swelling and leaks before you connect anything. It is not charged before the readings have been looked at, and it moves only in the packing that is named for it.",
  };
}
