import { type ColumnMapping, mappedMeaning, mappingKeys } from "@/lib/readings/column-mapping";
import type { ColumnMeaning } from "@/lib/readings/column-meaning";
import { unitOfWord } from "@/lib/readings/column-unit";
import { guessHeader } from "@/lib/readings/guess-header";
import { headerWords } from "@/lib/readings/header-words";
import { moduleCells } from "@/lib/readings/module-cells";
import { dimensionsOf } from "@/lib/readings/quantity";
import { type Delimiter, delimiters, splitLine } from "@/lib/readings/split-line";

export interface FoundHeader {
  /** Index of the header line among the lines given, from 0. */
  readonly lineIndex: number;
  /** Lines from the header to the first row of values: 1, or 2 where a line of units follows the header. */
  readonly lineCount: number;
  readonly delimiter: Delimiter;
  readonly headers: readonly string[];
  readonly meanings: readonly (ColumnMeaning | null)[];
  readonly serialInPreamble: string | null;
  /** What was assumed of the headings, as sentences. */
  readonly remarks: readonly string[];
}

/** Lines searched for the header; what stands above it is preamble (engineering default, no authority). */
const preambleLimit = 200;

/**
 * Finds the line that names the columns: of all lines and delimiters the one with most known columns, a time column counting
 * most; the earliest on a tie. Needs two known columns, so that a sentence in the preamble is not taken for a header.
 * Null where no line qualifies.
 */
export function findHeader(lines: readonly string[], mapping: ColumnMapping | undefined): FoundHeader | null {
  const known = new Map<string, ColumnMeaning | null>();
  const meaningOf = (header: string, key: string): ColumnMeaning | null => {
    const cached = known.get(key);
    if (cached !== undefined) return cached;
    const meaning = isNumberLike(header) ? null : mappedMeaning(header, mapping, key);
    known.set(key, meaning);
    return meaning;
  };

  let best: FoundHeader | null = null;
  let bestScore = 0;
  for (const [lineIndex, line] of lines.slice(0, preambleLimit).entries()) {
    for (const delimiter of delimiters) {
      if (!line.includes(delimiter)) continue;
      const headers = splitLine(line.replace(/^\s*#+\s*/, ""), delimiter);
      while (headers.length > 0 && headers[headers.length - 1] === "") headers.pop();
      const keys = mappingKeys(headers);
      const meanings = headers.map((header, field) => meaningOf(header, keys[field] ?? header));
      const count = meanings.filter((meaning) => meaning !== null).length;
      const score = count + (meanings.some(isTime) ? 1000 : 0);
      if (count < 2 || score <= bestScore) continue;
      bestScore = score;
      best = { lineIndex, lineCount: 1, delimiter, headers, meanings, serialInPreamble: null, remarks: [] };
    }
  }
  if (best === null) return guessedHeader(lines, mapping);
  return withUnitLine(
    { ...withModuleCells(best, mapping), serialInPreamble: serialIn(lines.slice(0, best.lineIndex)) },
    lines[best.lineIndex + 1],
  );
}

/** Where no heading is a cell by itself: those that name a module and a cell in it, unless somebody said what they are. */
function withModuleCells(header: FoundHeader, mapping: ColumnMapping | undefined): FoundHeader {
  const keys = mappingKeys(header.headers);
  const isSaid = (field: number) => mapping !== undefined && Object.hasOwn(mapping, keys[field] ?? "");
  if (header.meanings.some((meaning) => meaning?.quantity === "cell-voltage")) return header;
  const cells = moduleCells(header.headers.map((name, field) => (isSaid(field) ? "" : name)));
  if (cells.size === 0) return header;
  const meanings = header.meanings.map((meaning, field) => meaning ?? cells.get(field) ?? null);
  const remark =
    "The file numbers its cells anew in each module; they are counted through all modules here, beginning with the first.";
  return { ...header, meanings, remarks: [...header.remarks, remark] };
}

/** The line of a guess, where a mapping gives at least two of its columns a meaning. */
function guessedHeader(lines: readonly string[], mapping: ColumnMapping | undefined): FoundHeader | null {
  const guess = mapping === undefined ? null : guessHeader(lines);
  if (guess === null) return null;
  const keys = mappingKeys(guess.headers);
  const meanings = guess.headers.map((header, field) => mappedMeaning(header, mapping, keys[field]));
  if (meanings.filter((meaning) => meaning !== null).length < 2) return null;
  return { ...guess, meanings, serialInPreamble: serialIn(lines.slice(0, guess.lineIndex)), remarks: [] };
}

function isNumberLike(field: string): boolean {
  return /^[+-]?[\d.,]*$/.test(field);
}

export function isTime(meaning: ColumnMeaning | null): boolean {
  const quantity = meaning?.quantity;
  return (
    quantity === "test-time" || quantity === "unix-time" || quantity === "time-of-some-kind" || quantity === "date"
  );
}

/** Takes the line below the header as units where every field of it is empty or a unit word. */
function withUnitLine(header: FoundHeader, nextLine: string | undefined): FoundHeader {
  if (nextLine === undefined) return header;
  const units = splitLine(nextLine, header.delimiter).map((field) => {
    const [word, ...more] = headerWords(field);
    return word === undefined || more.length > 0 ? null : unitOfWord(word);
  });
  const fields = splitLine(nextLine, header.delimiter);
  const allUnits = fields.every((field, at) => field === "" || (units[at] ?? null) !== null);
  // A row of ones ("1" is a unit) must not be taken for units: at least one field has to be a word.
  if (!allUnits || !fields.some((field) => /[a-z°%]/i.test(field))) return header;
  const meanings = header.meanings.map((meaning, at) => {
    const unit = units[at] ?? null;
    if (meaning === null || meaning.unit !== null || unit === null) return meaning;
    return dimensionsOf[meaning.quantity].includes(unit.dimension) ? { ...meaning, unit } : meaning;
  });
  return { ...header, lineCount: 2, meanings };
}

/** The first serial that one of the lines names; null where none does. */
export function serialIn(preamble: readonly string[]): string | null {
  for (const line of preamble) {
    const found =
      /\b(?:serial(?:\s*(?:number|no\.?))?|s\/n)\s*"?\s*[:=,;\t|]\s*"?\s*([A-Za-z0-9][A-Za-z0-9 ./-]{2,39})/i.exec(
        line,
      );
    if (found?.[1] !== undefined) return found[1].trim();
  }
  return null;
}
