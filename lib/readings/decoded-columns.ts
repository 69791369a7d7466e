import { type BodyPart, mostValues, rejectedListed } from "@/lib/readings/body-part";
import type { ColumnTable } from "@/lib/readings/column-table";
import { secondTable, severalPacks } from "@/lib/readings/other-tables";
import type { BodyPlan } from "@/lib/readings/plan-body";
import type { ColumnPlan } from "@/lib/readings/plan-columns";
import { sayWords, type WordsInColumn } from "@/lib/readings/read-field";
import type { RejectedRow } from "@/lib/readings/reading-log";
import type { UnusableFile } from "@/lib/readings/unusable-file";

export interface DecodedColumns {
  readonly kind: "columns";
  readonly plan: ColumnPlan;
  readonly rows: number;
  readonly columns: Float64Array[];
  readonly line: Int32Array;
  readonly rejected: readonly RejectedRow[];
  readonly rejectedNotListed: number;
  /** The one pack the file names, if any. */
  readonly serial: string | null;
  readonly lacksZone: boolean;
  /** Lines that repeat the header. */
  readonly headersAgain: readonly number[];
  readonly wordsInColumns: readonly string[];
}

/** Puts together what the pieces of a body told; `table` holds the rows of all of them, in the order of the file. */
export function decodedColumns(
  body: BodyPlan,
  table: ColumnTable,
  parts: readonly BodyPart[],
): DecodedColumns | UnusableFile {
  const { plan } = body;
  const { rows } = table;
  if (rows * plan.columns.length >= mostValues) {
    const sentence = `The file holds more than ${rows - 1} rows of ${plan.columns.length} columns; export a shorter period.`;
    return { kind: "unusable", reason: "too-large", sentence };
  }
  const secondTableAt = parts.find((part) => part.secondTableAt !== null)?.secondTableAt ?? null;
  if (secondTableAt !== null) return secondTable(secondTableAt);
  const preamble = body.serialInPreamble === null ? [] : [{ serial: body.serialInPreamble, line: 0 }];
  const serials = [...preamble, ...parts.flatMap((part) => part.serials)];
  const several = severalPacks(serials);
  if (several !== null) return several;
  const all = parts.flatMap((part) => part.rejected);
  if (rows === 0) return noRows(all[0]);
  return {
    kind: "columns",
    plan,
    rows,
    columns: table.columns.map((column) => column.subarray(0, rows)),
    line: table.line.subarray(0, rows),
    rejected: all.slice(0, rejectedListed),
    rejectedNotListed:
      Math.max(0, all.length - rejectedListed) + parts.reduce((sum, part) => sum + part.rejectedNotListed, 0),
    serial: serials[0]?.serial ?? null,
    lacksZone: parts.some((part) => part.lacksZone),
    headersAgain: parts.flatMap((part) => part.headersAgain),
    wordsInColumns: joinedWords(parts.flatMap((part) => part.words)).map((words) => sayWords(plan, words)),
  };
}

function joinedWords(words: readonly WordsInColumn[]): WordsInColumn[] {
  const bySlot = new Map<number, WordsInColumn>();
  for (const each of words) {
    const before = bySlot.get(each.slot);
    bySlot.set(each.slot, before === undefined ? each : { ...before, rows: before.rows + each.rows });
  }
  return [...bySlot.values()];
}

function noRows(first: RejectedRow | undefined): UnusableFile {
  if (first === undefined)
    return { kind: "unusable", reason: "header-only", sentence: "The file has a header but no readings below it." };
  const sentence = `No row of this file can be used; the first problem is in line ${first.line}: ${first.reason}.`;
  return { kind: "unusable", reason: "no-usable-rows", sentence };
}
