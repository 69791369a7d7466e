import type { ToVerify } from "@/lib/transport/to-verify";
import type { LetterWords } from "./letter";
import { letterWords } from "./letter-words";

/** What the letters to customers say of their rights, of what is refused and of how to object, in every language. */
export function lettersToVerify(): ToVerify[] {
  return Object.entries(letterWords).flatMap(([language, words]) =>
    rightsIn(words).map((sentence) => ({
      table: "Letters to customers",
      version: "this release",
      sentence: `${language}: ${sentence}`,
      mark: "put into words in this house: to be confirmed by counsel",
    })),
  );
}

function rightsIn(words: LetterWords): string[] {
  return [
    ...Object.values(words.decisions),
    ...Object.values(words.cover),
    words.goodwill,
    words.objectWithin,
    words.object,
    words.howToObject,
    words.comesBack,
    words.rights,
    words.finding.noDecision,
  ];
}
