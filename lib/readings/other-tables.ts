import { columnMeaning } from "@/lib/readings/column-meaning";
import { isTime, serialIn } from "@/lib/readings/find-header";
import { quoted } from "@/lib/readings/reading-value";
import { type Delimiter, splitLine } from "@/lib/readings/split-line";
import type { UnusableFile } from "@/lib/readings/unusable-file";

/** Where a serial was first seen; line 0 is the preamble. */
export interface SerialSeen {
  readonly serial: string;
  readonly line: number;
}

/** Columns that must be known before a line counts as the header of another table (engineering default, no authority). */
const fewestKnown = 3;

/** Whether a line names columns, a time among them. */
export function isHeaderLine(line: string, delimiter: Delimiter): boolean {
  if (!line.includes(delimiter) || line.length > 20_000) return false;
  const meanings = splitLine(line.replace(/^\s*#+\s*/, ""), delimiter).map((field) =>
    /^[+-]?[\d.,]*$/.test(field) ? null : columnMeaning(field),
  );
  return meanings.filter((meaning) => meaning !== null).length >= fewestKnown && meanings.some(isTime);
}

/** What a line that is no row says about another table or another pack; null where it says nothing of the kind. */
export function otherTableIn(
  line: string,
  delimiter: Delimiter,
  headerLine: string,
): "table" | { readonly serial: string } | null {
  if (line === headerLine) return null;
  const serial = serialIn([line]);
  if (serial !== null) return { serial };
  return isHeaderLine(line, delimiter) ? "table" : null;
}

/** A file of two tables is refused rather than half read: which rows belong to which is the exporter's to say. */
export function secondTable(line: number): UnusableFile {
  const sentence = `Another table with other columns begins in line ${line}; save each table to a file of its own.`;
  return { kind: "unusable", reason: "several-packs", sentence };
}

/** A file of two packs is refused, because their readings must not be judged as one; null where all serials are the same. */
export function severalPacks(seen: readonly SerialSeen[]): UnusableFile | null {
  const [first] = seen;
  const other = seen.find(({ serial }) => first !== undefined && bare(serial) !== bare(first.serial));
  if (first === undefined || other === undefined) return null;
  const where = first.line === 0 ? "above the table" : `in line ${first.line}`;
  const sentence = `This file holds more than one pack: serial ${quoted(first.serial)} ${where}, ${quoted(other.serial)} in line ${other.line}; save each pack to a file of its own.`;
  return { kind: "unusable", reason: "several-packs", sentence };
}

/**
 * Where the header is repeated and the clock goes back, another log begins: of another day, or of another pack that no serial tells.
 * Null where the clock runs on over each repeated header, as after a restart.
 */
export function otherLogBelow(
  headersAgain: readonly number[],
  stepRows: readonly number[],
  line: Int32Array,
): string | null {
  const at = headersAgain.find((again) =>
    stepRows.some((row) => (line[row - 1] ?? 0) < again && again < (line[row] ?? 0)),
  );
  return at === undefined
    ? null
    : `The header is repeated in line ${at}, and the clock goes back there: what follows may be the log of another pack. Save each log to a file of its own.`;
}

/** A serial without what people write between its parts. */
function bare(serial: string): string {
  return serial.toUpperCase().replace(/[^A-Z0-9]/g, "");
}
