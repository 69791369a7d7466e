/** What a question is found by. */
export interface FoundBy {
  readonly label: string;
  readonly hint?: string;
  readonly section?: string;
}

/** Whether every word looked for begins a word of the question, of its hint or of the section it is in. Nothing looked for finds all. */
export function isWanted({ label, hint = "", section = "" }: FoundBy, wanted: string): boolean {
  const words = wordsOf(`${label} ${hint} ${section}`);
  return wordsOf(wanted).every((looked) => words.some((word) => word.startsWith(looked)));
}

function wordsOf(text: string): string[] {
  return text.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? [];
}
