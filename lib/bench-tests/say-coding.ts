import { causeWords, foundWords, howSureWords, partWords } from "./fault-coding.schema";

/** A stored coding in one line, such as "Loses charge; a cell; cause: unknown (likely, not shown)". */
export function sayCoding(coding: {
  readonly found: string;
  readonly part: string;
  readonly cause: string;
  readonly howSure: string;
}): string {
  const said = (words: Readonly<Record<string, string>>, code: string) => (words[code] ?? code).toLowerCase();
  const found: Readonly<Record<string, string>> = foundWords;
  return `${found[coding.found] ?? coding.found}; ${said(partWords, coding.part)}; cause: ${said(causeWords, coding.cause)} (${said(howSureWords, coding.howSure)})`;
}
