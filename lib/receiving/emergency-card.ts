import { practice, readIn, type SourcedText } from "@/lib/transport/sourced-text";

export interface CardFacts {
  readonly placeCode: string;
  readonly whereItIs: string;
  readonly emergencyNumber: string;
  readonly onCall: string;
  readonly extinguishing: string;
  readonly assemblyPoint: string;
}

export interface EmergencyCard {
  readonly title: string;
  readonly facts: readonly { readonly term: string; readonly detail: string }[];
  readonly steps: readonly SourcedText[];
  readonly deferral: string;
}

/** The card that hangs at a quarantine place. What is of this place comes from settings; the steps hold everywhere. */
export function emergencyCard(facts: CardFacts): EmergencyCard {
  return {
    title: `If a pack at ${facts.placeCode} smokes, hisses, swells or gets hot`,
    facts: [
      { term: "Emergency number", detail: facts.emergencyNumber },
      { term: "Where this is", detail: facts.whereItIs },
      { term: "On call", detail: facts.onCall },
      { term: "For putting out and cooling", detail: facts.extinguishing },
      { term: "Assembly point", detail: facts.assemblyPoint },
    ],
    steps: [
      practice("Warn everyone and leave. Do not carry a pack that is hot, smoking or hissing."),
      practice("Call the emergency number: say that it is a large lithium battery, and how many lie here."),
      practice(
        "Stay out of the smoke; it is poisonous and can burn. Keep doors and ways out free for the fire service.",
      ),
      practice("Do not rely on a carbon dioxide extinguisher alone, and do not shut the pack into a closed room."),
      readIn(
        "an insurer's guide quoting VdS 3103:2019-06",
        "Other things that burn stay 2.5 m away, or 5 m where there is neither sprinkler nor fire wall.",
      ),
      practice("It can start again hours later: somebody watches until the fire service has gone and for a day after."),
    ],
    deferral: "The fire service and the local rules come before anything said here. Have this card checked by them.",
  };
}
