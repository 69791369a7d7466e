import { type DayOrder, readClock, readDateTime, readDuration } from "@/lib/readings/date-time";
import type { SerialSeen } from "@/lib/readings/other-tables";
import type { ColumnPlan } from "@/lib/readings/plan-columns";
import type { PlannedColumn } from "@/lib/readings/planned-column";
import type { Quantity } from "@/lib/readings/quantity";
import { quoted, readBits, readSwitch, readValue, type ValueRead } from "@/lib/readings/reading-value";

/** Larger numbers are no reading in any unit we know; time counts since 1970 in nanoseconds reach 19 digits. */
const largestReading = 1e12;
const largestTime = 1e20;

/** Different serials noted: two are too many already, the others are ways of writing them (engineering default, no authority). */
const mostSerials = 8;

/** What the text fields of a file told on the way. */
export interface FieldNotes {
  readonly readField: (slot: number, text: string) => number | string;
  readonly serials: () => readonly SerialSeen[];
  /** Whether a date without a time zone was read. */
  readonly lacksZone: () => boolean;
  /** The columns in which words stood where a number should, though the rows were kept. */
  readonly wordsInColumns: () => readonly WordsInColumn[];
}

export interface WordsInColumn {
  readonly slot: number;
  readonly rows: number;
  /** The first of the words. */
  readonly first: string;
}

export function sayWords(plan: ColumnPlan, { slot, rows, first }: WordsInColumn): string {
  const header = plan.columns[slot]?.header ?? "";
  return `Column ${quoted(header)} holds words (${quoted(first)} first) in ${rows} ${rows === 1 ? "row" : "rows"}; there it counts as not measured.`;
}

/**
 * Without time, current or voltages a row says nothing, so an unreadable one rejects it. Words in any other column ("ERR7"
 * from a probe, a status in place of the state of charge) must not cost the voltages beside them.
 */
const needed: ReadonlySet<Quantity> = new Set<Quantity>([
  "test-time",
  "unix-time",
  "time-of-some-kind",
  "date",
  "current",
  "charge-current",
  "discharge-current",
  "pack-voltage",
  "cell-voltage",
]);

/**
 * Reader of the fields that are no plain number. A missing time, or a text that stands where a number should, gives the reason
 * the row is rejected with; a recognised "not measured" gives NaN.
 */
export function createFieldReader(plan: ColumnPlan, decimalMark: "." | ",", lineNow: () => number): FieldNotes {
  const timeFields = new Set(
    plan.time.running === null ? [plan.time.unix?.field, plan.time.unix?.clockField] : [plan.time.running.field],
  );
  const serials = new Map<string, number>();
  const words = new Map<number, { rows: number; first: string }>();
  let zoneMissing = false;

  function noteWords(slot: number, text: string): number {
    const known = words.get(slot);
    if (known === undefined) words.set(slot, { rows: 1, first: text.slice(0, 40) });
    else known.rows += 1;
    return Number.NaN;
  }

  function readField(slot: number, text: string): number | string {
    const column = plan.columns[slot];
    if (column === undefined) return Number.NaN;
    if (column.reading === "serial") {
      const serial = text.slice(0, 80);
      const isNew = serials.size < mostSerials && !serials.has(serial);
      if (isNew && readValue(serial, decimalMark).kind !== "missing") serials.set(serial, lineNow());
      return Number.NaN;
    }
    const read = readByForm(column, text, plan.dayOrder, decimalMark, () => {
      zoneMissing = true;
    });
    switch (read.kind) {
      case "missing":
        return timeFields.has(column.field) ? `${column.spokenName} is missing` : Number.NaN;
      case "unreadable":
        return needed.has(column.meaning.quantity) ? `${column.spokenName} ${read.reason}` : noteWords(slot, text);
      case "number": {
        const limit = column.spokenName === "time" || column.spokenName === "date" ? largestTime : largestReading;
        return Math.abs(read.value) > limit
          ? `${column.spokenName} is too large to be a reading: ${quoted(text)}`
          : read.value;
      }
    }
  }
  const wordsInColumns = () => [...words].map(([slot, found]) => ({ slot, ...found }));
  return {
    readField,
    serials: () => [...serials].map(([serial, line]) => ({ serial, line })),
    lacksZone: () => zoneMissing,
    wordsInColumns,
  };
}

function readByForm(
  column: PlannedColumn,
  text: string,
  order: DayOrder,
  decimalMark: "." | ",",
  noZone: () => void,
): ValueRead {
  switch (column.reading) {
    case "switch":
      return readSwitch(text, decimalMark);
    case "bits":
      return readBits(text, decimalMark);
    case "date-time": {
      const read = readDateTime(text, order);
      if (read === null) return missingOr(text, "is not a date", decimalMark);
      if (!read.hasZone) noZone();
      return { kind: "number", value: read.unixS };
    }
    case "clock": {
      const read = readClock(text);
      if (read === null) return missingOr(text, "is not a time of day", decimalMark);
      return { kind: "number", value: read.secondsOfDay - read.zoneOffsetS };
    }
    case "duration": {
      const seconds = readDuration(text);
      return seconds === null ? missingOr(text, "is not a time", decimalMark) : { kind: "number", value: seconds };
    }
    default:
      return readValue(text, decimalMark);
  }
}

function missingOr(text: string, what: string, decimalMark: "." | ","): ValueRead {
  const plain = readValue(text, decimalMark);
  return plain.kind === "missing" ? plain : { kind: "unreadable", reason: `${what}: ${quoted(text)}` };
}
