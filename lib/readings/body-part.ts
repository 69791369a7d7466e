import type { ColumnTable, MakeBuffer } from "@/lib/readings/column-table";
import type { BodyPlan } from "@/lib/readings/plan-body";
import { createFieldReader, type WordsInColumn } from "@/lib/readings/read-field";
import type { RejectedRow } from "@/lib/readings/reading-log";
import { createRowReader, type RowProgress } from "@/lib/readings/row-reader";

/** What one piece of a body told besides the numbers; plain data, so that another thread can hand it over. */
export interface BodyPart {
  readonly progress: RowProgress;
  readonly rejected: readonly RejectedRow[];
  readonly rejectedNotListed: number;
  readonly serials: readonly string[];
  readonly lacksZone: boolean;
  readonly words: readonly WordsInColumn[];
}

export interface BodyPartReader {
  readonly push: (bytes: Uint8Array) => void;
  /** Tells that the piece is at its end. To be called once. */
  readonly end: () => BodyPart;
  /** True once the table holds as many numbers as are taken: further bytes need not be read. */
  readonly full: () => boolean;
}

/** Rejected rows listed one by one; the rest are counted. */
export const rejectedListed = 1000;
/** Numbers kept at most: 1.2 GB. Five million rows of thirty columns (engineering default, no authority). */
export const mostValues = 150_000_000;

/** Reads one piece of the rows into a table: from `start.nextLine` on, whole lines except where the file ends without one. */
export function readBodyPart(
  { plan, delimiter, decimalMark, headerLine }: BodyPlan,
  table: ColumnTable,
  start: RowProgress,
  make?: MakeBuffer,
): BodyPartReader {
  const rejected: RejectedRow[] = [];
  let rejectedNotListed = 0;
  const fields = createFieldReader(plan, decimalMark);
  const slotOfField = new Int16Array(plan.fieldCount).fill(-1);
  const textSlots: number[] = [];
  plan.columns.forEach((column, slot) => {
    slotOfField[column.field] = slot;
    if (column.reading !== "number" && column.reading !== "switch" && column.reading !== "bits") textSlots.push(slot);
  });
  const rows = createRowReader(
    { delimiter, decimalMark, slotOfField, textSlots, headerLine },
    table,
    {
      readField: fields.readField,
      reject(line, reason) {
        if (rejected.length < rejectedListed) rejected.push({ line, reason });
        else rejectedNotListed++;
      },
    },
    start,
    make,
  );
  const full = () => table.rows * plan.columns.length >= mostValues;
  return {
    push(bytes) {
      if (!full()) rows.push(bytes);
    },
    end() {
      rows.end();
      return {
        progress: rows.progress(),
        rejected,
        rejectedNotListed,
        serials: fields.serials(),
        lacksZone: fields.lacksZone(),
        words: fields.wordsInColumns(),
      };
    },
    full,
  };
}
