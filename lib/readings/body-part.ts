import type { ColumnTable, MakeBuffer } from "@/lib/readings/column-table";
import { otherTableIn, type SerialSeen } from "@/lib/readings/other-tables";
import type { BodyPlan } from "@/lib/readings/plan-body";
import { createFieldReader, type WordsInColumn } from "@/lib/readings/read-field";
import type { RejectedRow } from "@/lib/readings/reading-log";
import { createRowReader, type RowProgress, type RowReader } from "@/lib/readings/row-reader";

/** What one piece of a body told besides the numbers; plain data, so that another thread can hand it over. */
export interface BodyPart {
  readonly progress: RowProgress;
  readonly rejected: readonly RejectedRow[];
  readonly rejectedNotListed: number;
  readonly serials: readonly SerialSeen[];
  /** Line in which another table begins; null where none does. */
  readonly secondTableAt: number | null;
  /** Lines that repeat the header. */
  readonly headersAgain: readonly number[];
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
/** Lines that are no rows looked at for another table: a file full of rubbish must not take long (engineering default, no authority). */
const mostLooks = 500;
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
  let secondTableAt: number | null = null;
  const serialsBetween: SerialSeen[] = [];
  const headersAgain: number[] = [];
  let looks = 0;
  const fields = createFieldReader(plan, decimalMark, () => rows.progress().nextLine);
  const slotOfField = new Int16Array(plan.fieldCount).fill(-1);
  const textSlots: number[] = [];
  plan.columns.forEach((column, slot) => {
    slotOfField[column.field] = slot;
    if (column.reading !== "number" && column.reading !== "switch" && column.reading !== "bits") textSlots.push(slot);
  });
  const rows: RowReader = createRowReader(
    { delimiter, decimalMark, slotOfField, textSlots, headerLine },
    table,
    {
      readField: fields.readField,
      reject(line, reason, text) {
        if (looks++ < mostLooks) look(line, text());
        if (rejected.length < rejectedListed) rejected.push({ line, reason });
        else rejectedNotListed++;
      },
    },
    start,
    make,
  );
  function look(line: number, text: string): void {
    if (text === headerLine) headersAgain.push(line);
    const other = otherTableIn(text, delimiter, headerLine);
    if (other === "table") secondTableAt ??= line;
    else if (other !== null) serialsBetween.push({ serial: other.serial, line });
  }
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
        serials: [...serialsBetween, ...fields.serials()].toSorted((a, b) => a.line - b.line),
        secondTableAt,
        headersAgain,
        lacksZone: fields.lacksZone(),
        words: fields.wordsInColumns(),
      };
    },
    full,
  };
}
