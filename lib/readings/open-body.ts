import { createColumnBlocks } from "@/lib/readings/column-blocks";
import type { ColumnMapping } from "@/lib/readings/column-mapping";
import { type FoundHeader, findHeader } from "@/lib/readings/find-header";
import { type ColumnPlan, planColumns } from "@/lib/readings/plan-columns";
import { createFieldReader } from "@/lib/readings/read-field";
import type { RejectedRow } from "@/lib/readings/reading-log";
import { createRowReader, type RowReader } from "@/lib/readings/row-reader";
import { splitLine, splitLines } from "@/lib/readings/split-line";
import { textOfHead } from "@/lib/readings/text-encoding";
import type { UnusableFile } from "@/lib/readings/unusable-file";

export interface DecodedColumns {
  readonly kind: "columns";
  readonly plan: ColumnPlan;
  readonly rows: number;
  readonly columns: Float64Array[];
  readonly line: Int32Array;
  readonly rejected: readonly RejectedRow[];
  readonly rejectedNotListed: number;
  readonly serials: readonly string[];
  readonly lacksZone: boolean;
  readonly wordsInColumns: readonly string[];
}

export interface OpenBody {
  readonly kind: "open";
  readonly rows: RowReader;
  /** Set once the file turns out too large. */
  readonly failure: () => UnusableFile | null;
  readonly finish: () => DecodedColumns | UnusableFile;
}

/** Rows after the header looked at for decimal mark, dates and units. */
const sampleRows = 200;
/** Rejected rows listed one by one; the rest are counted. */
const rejectedListed = 1000;
/** Numbers kept at most: 1.2 GB. Five million rows of thirty columns (engineering default, no authority). */
const mostValues = 150_000_000;

const noHeaderSentence =
  "No line of this file names columns that are known, such as time, current and cell voltages; " +
  "export it again with a header line that names each column and its unit.";

/**
 * Finds header and form in the first bytes of a UTF-8 text and opens a reader for the rows, which is fed what `head` holds of them.
 * `complete` says that `head` is the whole file; otherwise its last, broken line is left out of the search.
 */
export function openBody(
  head: Uint8Array,
  complete: boolean,
  mapping: ColumnMapping | undefined,
): OpenBody | UnusableFile {
  const lastEnd = complete ? 0 : Math.max(head.lastIndexOf(10), head.lastIndexOf(13)) + 1;
  const text = textOfHead(head.subarray(0, lastEnd === 0 ? head.length : lastEnd));
  if (text.trim() === "") return { kind: "unusable", reason: "empty", sentence: "The file is empty." };
  const lines = splitLines(text);
  const header = findHeader(lines, mapping);
  if (header === null) return { kind: "unusable", reason: "no-header", sentence: noHeaderSentence };
  const firstRow = header.lineIndex + header.lineCount;
  const sample = lines.slice(firstRow, firstRow + sampleRows).map((line) => splitLine(line, header.delimiter));
  const outcome = planColumns(header, sample);
  if (outcome.kind === "unusable") return outcome;
  const body = readRows(header, outcome.plan, decimalMarkOf(outcome.plan, sample), lines[header.lineIndex] ?? "");
  body.rows.push(head.subarray(offsetOfLine(head, firstRow)));
  return body;
}

function readRows(header: FoundHeader, plan: ColumnPlan, decimalMark: "." | ",", headerLine: string): OpenBody {
  const slotCount = plan.columns.length;
  const blocks = createColumnBlocks(slotCount);
  const rejected: RejectedRow[] = [];
  let rejectedNotListed = 0;
  let failure: UnusableFile | null = null;
  const fields = createFieldReader(plan, decimalMark);
  const slotOfField = new Int16Array(plan.fieldCount).fill(-1);
  const textSlots: number[] = [];
  plan.columns.forEach((column, slot) => {
    slotOfField[column.field] = slot;
    if (column.reading !== "number" && column.reading !== "switch" && column.reading !== "bits") textSlots.push(slot);
  });
  const firstLine = header.lineIndex + header.lineCount + 1;
  const rows = createRowReader(
    { delimiter: header.delimiter, decimalMark, slotOfField, slotCount, textSlots, firstLine, headerLine },
    {
      readField: fields.readField,
      reject(line, reason) {
        if (rejected.length < rejectedListed) rejected.push({ line, reason });
        else rejectedNotListed++;
      },
      accept(values, line) {
        if (blocks.rows() * slotCount < mostValues) blocks.add(values, line);
        else if (failure === null) {
          const sentence = `The file holds more than ${blocks.rows()} rows of ${slotCount} columns; export a shorter period.`;
          failure = { kind: "unusable", reason: "too-large", sentence };
        }
      },
    },
  );

  function finish(): DecodedColumns | UnusableFile {
    if (failure !== null) return failure;
    if (blocks.rows() === 0) return noRows(rejected);
    const preamble = header.serialInPreamble === null ? [] : [header.serialInPreamble];
    const serials = [...new Set([...preamble, ...fields.serials()])];
    return {
      kind: "columns",
      plan,
      ...blocks.finish(),
      rejected,
      rejectedNotListed,
      serials,
      lacksZone: fields.lacksZone(),
      wordsInColumns: fields.wordsInColumns(),
    };
  }
  return { kind: "open", rows, failure: () => failure, finish };
}

function noRows(rejected: readonly RejectedRow[]): UnusableFile {
  const first = rejected[0];
  if (first === undefined) {
    return { kind: "unusable", reason: "header-only", sentence: "The file has a header but no readings below it." };
  }
  const sentence = `No row of this file can be used; the first problem is in line ${first.line}: ${first.reason}.`;
  return { kind: "unusable", reason: "no-usable-rows", sentence };
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
