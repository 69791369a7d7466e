import type { Letter } from "./letter";

/** Longer sentences are read twice. Engineering default, no authority. */
const MAX_WORDS_IN_A_SENTENCE = 30;

/** Words joined by hyphens that are all lower case without vowels of speech are codes of a program: `in-cover-by-grace`. */
const CODE =
  /\b[a-z]+(?:-[a-z]+){2,}\b|\b[a-z]+_[a-z_]+\b|\b[A-Z]{2,}_[A-Z_]+\b|\{[a-z]+\}|\bundefined\b|\bnull\b|\bNaN\b/;

/**
 * What keeps a letter from being read easily: codes, and sentences that are too long. Only the letter's own sentences
 * and the staff's points are looked at; the customer's words are quoted as they are.
 */
export function readabilityProblems(letter: Letter): string[] {
  const [, told, ...rest] = letter.parts;
  const texts = [
    letter.title,
    ...(letter.parts[0]?.paragraphs ?? []),
    ...(told?.paragraphs ?? []),
    ...rest.flatMap(({ paragraphs, points }) => [...paragraphs, ...points]),
  ];
  return texts.flatMap((text) => {
    const code = CODE.exec(text)?.[0];
    const long = text
      .split(/(?<=[.!?;:])\s/)
      .find((sentence) => sentence.split(/\s+/).length > MAX_WORDS_IN_A_SENTENCE);
    return [
      ...(code === undefined ? [] : [`“${code}” is a code, not a word.`]),
      ...(long === undefined ? [] : [`This sentence is long: “${long.slice(0, 60)}…”`]),
    ];
  });
}
