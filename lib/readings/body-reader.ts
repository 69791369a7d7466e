import { type BodyPartReader, mostValues, readBodyPart } from "@/lib/readings/body-part";
import type { ColumnMapping } from "@/lib/readings/column-mapping";
import { type ColumnTable, createColumnTable } from "@/lib/readings/column-table";
import { type DecodedColumns, decodedColumns } from "@/lib/readings/decoded-columns";
import { type BodyPlan, planBody } from "@/lib/readings/plan-body";
import { joinedBytes } from "@/lib/readings/row-bytes";
import { noRowsYet } from "@/lib/readings/row-reader";
import type { UnusableFile } from "@/lib/readings/unusable-file";

export interface BodyReader {
  readonly push: (bytes: Uint8Array) => void;
  readonly end: () => DecodedColumns | UnusableFile;
  /** True once the file is known to be unusable: further bytes need not be read. */
  readonly failed: () => boolean;
  /** Rows taken so far. */
  readonly rows: () => number;
}

/** Bytes of text held back for the header and the first rows. */
export const headBytes = 65_536;

interface OpenBody {
  readonly kind: "open";
  readonly plan: BodyPlan;
  readonly table: ColumnTable;
  readonly part: BodyPartReader;
}

/** Reads UTF-8 text, chunk by chunk: preamble, header, then rows into columns. Same promises as createReadingDecoder. */
export function createBodyReader(mapping: ColumnMapping | undefined, sizeBytes = 0): BodyReader {
  let head = new Uint8Array(0);
  let body: OpenBody | UnusableFile | null = null;

  function push(bytes: Uint8Array): void {
    if (body !== null) {
      if (body.kind === "open") body.part.push(bytes);
      return;
    }
    const both = joinedBytes(head, bytes);
    head = both.slice(0, headBytes);
    if (both.length < headBytes) return;
    body = openBody(head, false, mapping, sizeBytes);
    head = new Uint8Array(0);
    push(both.subarray(headBytes));
  }

  function end(): DecodedColumns | UnusableFile {
    const opened = body ?? openBody(head, true, mapping, 0);
    if (opened.kind === "unusable") return opened;
    const part = opened.part.end();
    return decodedColumns(opened.plan, opened.table, [part]);
  }

  return {
    push,
    end,
    failed: () => body !== null && (body.kind === "unusable" || body.part.full()),
    rows: () => (body?.kind === "open" ? body.table.rows : 0),
  };
}

function openBody(
  head: Uint8Array,
  complete: boolean,
  mapping: ColumnMapping | undefined,
  sizeBytes: number,
): OpenBody | UnusableFile {
  const plan = planBody(head, complete, mapping);
  if (plan.kind === "unusable") return plan;
  const table = createColumnTable(plan.plan.columns.length, expectedRows(plan, head, sizeBytes));
  const part = readBodyPart(plan, table, { ...noRowsYet, nextLine: plan.firstLine });
  part.push(head.subarray(plan.firstRowAt));
  return { kind: "open", plan, table, part };
}

/** Room beyond the rows that the first lines let expect, so that the columns of hardly any file have to move. */
const spareRoom = 1.15;

/** Rows that one chunk may bring beyond the most that are taken: the columns must not move, and be held twice, to refuse a file. */
const chunkRows = 65_536;

/** Rows to make room for in a file of this size, by its first lines; undefined where the size is not known. */
export function expectedRows({ firstRowAt, plan }: BodyPlan, head: Uint8Array, sizeBytes: number): number | undefined {
  if (sizeBytes <= head.length) return undefined;
  let lines = 1;
  for (let at = firstRowAt; at < head.length; at++) if (head[at] === 10) lines++;
  const rows = (spareRoom * sizeBytes * lines) / Math.max(1, head.length - firstRowAt);
  return Math.min(rows, mostValues / plan.columns.length + chunkRows);
}
