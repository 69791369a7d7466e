import type { Danger } from "./danger-signs";

export interface DealerScript {
  readonly headline: string;
  readonly does: readonly string[];
  readonly donts: readonly string[];
}

const LOCAL_RULES = "Follow your local emergency services and rules; they come before anything said here.";

/** What holds for every returned pack, danger sign or not. */
const always: readonly string[] = [
  "Do not charge, ride, discharge or try to wake it up, not even to test it.",
  "Do not open, pierce or press it.",
  "Do not change its software before the readings are saved.",
  "Do not send it by post, parcel or air, and do not pack it, until you are told how.",
];

/**
 * What the dealer is told to do and not to do with the pack, by how grave the danger answers are. Content: common
 * practice in handling damaged lithium packs, no single source; the maker's own emergency instructions and the local
 * fire service's advice replace it where they differ.
 */
export function dealerScript(danger: Danger): DealerScript {
  switch (danger.kind) {
    case "keep-away":
      return {
        headline: "Keep away and call for help",
        does: [
          "Get everyone away and out of the smoke; its vapour is poisonous and can burn.",
          "Call the emergency number and say it is a large lithium battery.",
          "Keep a way out free and warn your neighbours in the building.",
          "Only when it is safe: come back to this form; what you have entered is kept.",
          LOCAL_RULES,
        ],
        donts: [
          "Do not carry or touch it while it is hot, smoking or hissing.",
          "Do not shut it into a closed room.",
          ...always,
        ],
      };
    case "set-apart":
      return {
        headline: "Set the pack apart now",
        does: [
          "Unplug it only if you can do so without touching anything wet, hot or damaged.",
          "Bring it outside, or have it brought: away from buildings, ways out and anything that burns, sheltered from sun and rain.",
          "Keep people away and look at it again and again, for a day at least.",
          "If it gets warm, swells, smells or hisses: step back and call the emergency number.",
          "See a doctor after a shock, after breathing vapour, or after touching what leaked; rinse with much water first.",
          LOCAL_RULES,
        ],
        donts: ["Do not touch what leaks.", "Do not leave it indoors overnight.", ...always],
      };
    case "none":
      return {
        headline: "Leave the pack as it is",
        does: [
          "Cover the contacts so that nothing can touch them.",
          "Photograph the label, the display, the case and the connector.",
          "Keep it at the charge it has, dry, away from heat, where you would notice a change.",
          "If it gets warm, swells, smells or hisses: step back, and call the emergency number.",
          LOCAL_RULES,
        ],
        donts: always,
      };
    default: {
      const never: never = danger;
      return never;
    }
  }
}
