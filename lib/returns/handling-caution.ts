import type { CustodyPlace } from "./custody-track";
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
  /** Where the pack is: what a hand of this house can do to it, and whether anybody watches it here. */
  readonly place: CustodyPlace;
}

export const DEFERRAL =
  "The local rules, the fire service's advice and the people trained for damaged packs come before anything said here.";

/**
 * What is said before anyone handles the pack: by danger signs, the gravest class among the findings, its flag, and a
 * suggestion to isolate. Null only where the readings show no sign of damage, say what is to be done, and nobody told of a sign.
 * Content: common practice in handling damaged lithium packs, no single source.
 */
export function handlingCaution(facts: CautionFacts): HandlingCaution | null {
  const { place } = facts;
  const told = dangerTold(facts.dangerSigns).kind;
  const danger = dangerNow(told, facts.flag);
  const worst = classToHandleBy(facts.safetyClasses, facts.suggestedRemedy);
  if (danger === "keep-away" || worst === "A0") {
    return {
      kind: "danger",
      title: "Nobody handles this pack now",
      deferral: DEFERRAL,
      handling: inThisOrder(
        whoHasIt(place),
        "Keep people away and the ways out free. Call the fire service on heat, smoke, smell or noise. It is not opened, charged, discharged, carried or sent.",
      ),
    };
  }
  if (danger === "set-apart" || worst === "A1" || facts.suggestedRemedy === "isolate") {
    return {
      kind: "danger",
      title: "Set apart: only trained persons handle this pack",
      deferral: DEFERRAL,
      handling: inThisOrder(whoHasIt(place) ?? whereItLies(place), howFarItGoes(place)),
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

/** What is to be done about a pack that is not here; null where the house has it in its own hands. */
function whoHasIt(place: CustodyPlace): string | null {
  switch (place) {
    case "with-customer":
    case "with-dealer":
      return `It is not here but with the ${place === "with-dealer" ? "dealer" : "customer"}, and nobody of this house watches it. Make sure that whoever has it knows what to do with it, and what not.`;
    case "with-carrier-in":
    case "with-carrier-out":
      return "It is not here but with a carrier. Make sure that the carrier knows; the safety officer says how it goes on from there.";
    case "supplier":
    case "recycler":
      return `It is not here but with the ${place}. Make sure that they know what is known of it.`;
    case "specialist":
      return "It is not here: a specialist collected it. Make sure that they know what is known of it.";
    case "missing":
      return "Nobody knows where it is. Whoever finds it keeps people away from it and tells the safety officer.";
    case "quarantine":
    case "bench":
    case "store":
    case "workshop":
      return null;
    default: {
      const never: never = place;
      return never;
    }
  }
}

/**
 * At a dealer's or a customer's the script they read has it brought outside, away from what burns, and no further: told otherwise on the
 * telephone they would leave it in the shop.
 */
function howFarItGoes(place: CustodyPlace): string {
  return place === "with-dealer" || place === "with-customer"
    ? "It is not charged, discharged, opened or sent, and carried no further than outside, to the place that the dealer's page names, until a trained person has judged it and the packing is named."
    : "It is not charged, discharged, opened or moved until a trained person has judged it and the packing is named.";
}

function whereItLies(place: CustodyPlace): string {
  return place === "quarantine"
    ? "Leave it in its quarantine place, and have it watched there."
    : "It lies in no quarantine place. Keep people away and have it watched; trained people alone carry it to one.";
}

function inThisOrder(...sentences: readonly (string | null)[]): string {
  return sentences.filter((sentence) => sentence !== null).join(" ");
}
