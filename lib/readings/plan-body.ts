import type { ColumnMapping } from "@/lib/readings/column-mapping";
import { columnMeaning } from "@/lib/readings/column-meaning";
import { findHeader } from "@/lib/readings/find-header";
import { isHeaderLine, secondTable } from "@/lib/readings/other-tables";
import { type ColumnPlan, planColumns } from "@/lib/readings/plan-columns";
import { quoted } from "@/lib/readings/reading-value";
import { type Delimiter, splitLine, splitLines } from "@/lib/readings/split-line";
import { textOfHead } from "@/lib/readings/text-encoding";
import type { UnusableFile } from "@/lib/readings/unusable-file";

/** How the rows of a file are read; plain data, so that another thread can be told. */
export interface BodyPlan {
  readonly kind: "body";
  readonly plan: ColumnPlan;
  readonly delimiter: Delimiter;
  readonly decimalMark: "." | ",";
  readonly headerLine: string;
  /** Place of the first row among the bytes of the text, and the number of its line. */
  readonly firstRowAt: number;
  readonly firstLine: number;
  readonly serialInPreamble: string | null;
}

/** Rows after the header looked at for decimal mark, dates and units. */
const sampleRows = 200;

const noHeaderSentence =
  "No line of this file names columns that are known, such as time, current and cell voltages; " +
  "export it again with a header line that names each column and its unit.";

/**
 * Finds header and form in the first bytes of a UTF-8 text. `complete` says that `head` is the whole file; otherwise its last,
 * broken line is left out of the search.
 */
export function planBody(
  head: Uint8Array,
  complete: boolean,
  mapping: ColumnMapping | undefined,
): BodyPlan | UnusableFile {
  const lines = linesOfHead(head, complete);
  if (lines.every((line) => line.trim() === ""))
    return { kind: "unusable", reason: "empty", sentence: "The file is empty." };
  const header = findHeader(lines, mapping);
  if (header === null) return oneColumn(lines) ?? { kind: "unusable", reason: "no-header", sentence: noHeaderSentence };
  const above = lines.findIndex((line, at) => at < header.lineIndex && startsTable(lines, at, header.delimiter, line));
  if (above >= 0) return secondTable(header.lineIndex + 1);
  const firstRow = header.lineIndex + header.lineCount;
  const sample = lines.slice(firstRow, firstRow + sampleRows).map((line) => splitLine(line, header.delimiter));
  const outcome = planColumns(header, sample, mapping);
  if (outcome.kind === "unusable") return outcome;
  const { plan } = outcome;
  return {
    kind: "body",
    plan,
    delimiter: header.delimiter,
    decimalMark: decimalMarkOf(plan, sample),
    headerLine: (lines[header.lineIndex] ?? "").trim(),
    firstRowAt: offsetOfLine(head, firstRow),
    firstLine: firstRow + 1,
    serialInPreamble: header.serialInPreamble,
  };
}

/** A file of a single column that is known: what it lacks is the others. Null where it is none. */
function oneColumn(lines: readonly string[]): UnusableFile | null {
  const at = lines.findIndex((line) => line.trim() !== "");
  const heading = (lines[at] ?? "").trim();
  const isAlone = lines.every((line) => !/[;\t|]/.test(line) && (line.match(/,/g) ?? []).length <= 1);
  if (!isAlone || columnMeaning(heading) === null) return null;
  const sentence = `The one column of this file, ${quoted(heading)} in line ${at + 1}, is known; time, current and the other voltages are missing. Export them in one table.`;
  return { kind: "unusable", reason: "no-header", sentence };
}

/** Whether a line names columns and at least two rows of as many numbers follow it: a table, not a summary above one. */
function startsTable(lines: readonly string[], at: number, delimiter: Delimiter, line: string): boolean {
  if (!isHeaderLine(line, delimiter)) return false;
  const fields = splitLine(line, delimiter).length;
  return lines.slice(at + 1, at + 3).every((row) => {
    const values = splitLine(row, delimiter);
    return values.length === fields && values.filter((value) => /^[+-]?\d/.test(value)).length > fields / 2;
  });
}

/** The whole lines at the start of a file. */
export function linesOfHead(head: Uint8Array, complete: boolean): string[] {
  const lastEnd = complete ? 0 : Math.max(head.lastIndexOf(10), head.lastIndexOf(13)) + 1;
  return splitLines(textOfHead(head.subarray(0, lastEnd === 0 ? head.length : lastEnd)));
}

/** The comma is the decimal mark where numbers of the sample carry one comma and none carries a point. */
function decimalMarkOf(plan: ColumnPlan, sample: readonly string[][]): "." | "," {
  let commas = 0;
  let points = 0;
  for (const row of sample) {
    for (const column of plan.columns) {
      const text = row[column.field] ?? "";
      if (column.reading !== "number") continue;
      if (/^[+-]?\d+,\d+$/.test(text)) commas++;
      else if (/^[+-]?\d*\.\d+/.test(text)) points++;
    }
  }
  return commas > 0 && points === 0 ? "," : ".";
}

/** Byte offset at which line `index` (from 0) starts; lines end with LF, CR LF or a lone CR. */
function offsetOfLine(bytes: Uint8Array, index: number): number {
  let line = 0;
  let at = 0;
  while (line < index && at < bytes.length) {
    const byte = bytes[at++];
    if (byte === 13 && bytes[at] === 10) at++;
    if (byte === 10 || byte === 13) line++;
  }
  return at;
}
