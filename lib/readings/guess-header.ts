import { type Delimiter, delimiters, splitLine } from "@/lib/readings/split-line";

/** Where the names of the columns most likely stand in a file none of whose names are known. */
export interface GuessedHeader {
  readonly lineIndex: number;
  /** 1 where a line of names was found; 0 where the values begin at once and the columns are numbered instead. */
  readonly lineCount: 0 | 1;
  readonly delimiter: Delimiter;
  readonly headers: readonly string[];
}

/** Lines of values looked at below a line of names, and fewest columns of a table (engineering defaults, no authority). */
const rowsLookedAt = 5;
const fewestColumns = 3;
const preambleLimit = 200;

/**
 * The first line followed by rows of as many fields, most of them numbers; the names are that line's fields where they are words, or
 * "Column 1" and so on where the line holds values itself. Null where the text is no table.
 */
export function guessHeader(lines: readonly string[]): GuessedHeader | null {
  for (const [lineIndex, line] of lines.slice(0, preambleLimit).entries()) {
    for (const delimiter of delimiters) {
      const names = fieldsOf(line, delimiter);
      if (names.length < fewestColumns) continue;
      const below = lines.slice(lineIndex + 1, lineIndex + 1 + rowsLookedAt).filter((row) => row.trim() !== "");
      const isRow = (row: string) => {
        const fields = fieldsOf(row, delimiter);
        // The last columns may be empty in some rows: those rows are as wide as the names all the same.
        const isAsWide = splitLine(row, delimiter).length === splitLine(line, delimiter).length;
        return (fields.length === names.length || isAsWide) && isMostlyNumbers(fields);
      };
      if (below.length === 0 || !below.every(isRow)) continue;
      if (isMostlyNumbers(names))
        return { lineIndex, lineCount: 0, delimiter, headers: names.map((_, at) => `Column ${at + 1}`) };
      return { lineIndex, lineCount: 1, delimiter, headers: names };
    }
  }
  return null;
}

function fieldsOf(line: string, delimiter: Delimiter): string[] {
  const fields = splitLine(line.replace(/^\s*#+\s*/, ""), delimiter);
  while (fields.length > 0 && fields[fields.length - 1] === "") fields.pop();
  return fields;
}

function isMostlyNumbers(fields: readonly string[]): boolean {
  return fields.filter((field) => /^[+-]?\d[\d.,:eE+-]*$/.test(field)).length > fields.length / 2;
}
