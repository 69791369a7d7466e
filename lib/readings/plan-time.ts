import {
  closerOrder,
  type DayOrder,
  dayOrderOf,
  type OpenDayOrder,
  readClock,
  readDuration,
} from "@/lib/readings/date-time";
import type { ChosenColumn, FieldReading } from "@/lib/readings/planned-column";

/** Where the time of a row comes from. Fields are positions in the row. */
export interface TimePlan {
  /** Field with a running time, and its factor to seconds; null where the file has dates only. */
  readonly running: { readonly field: number; readonly scaleS: number } | null;
  /** Fields that add up to Unix seconds; null where the file has no date. */
  readonly unix: { readonly field: number; readonly clockField: number | null; readonly scaleS: number } | null;
  /** True where the date comes from text, which may lack a zone. */
  readonly fromText: boolean;
  /** True where the running time is a time of day that starts again at midnight. */
  readonly timeOfDay: boolean;
}

/** Dates that do not tell day and month apart and of which nobody has said it: the order that puts them closer together, if one does. */
export interface OpenOrder {
  readonly field: number;
  readonly closer: OpenDayOrder | null;
}

export type TimePlanOutcome =
  | {
      readonly kind: "plan";
      readonly plan: TimePlan;
      readonly readings: ReadonlyMap<number, FieldReading>;
      readonly dayOrder: DayOrder;
      readonly openDayOrder: OpenOrder | null;
      readonly remarks: readonly string[];
    }
  | { readonly kind: "unusable"; readonly reason: "no-time-column"; readonly sentence: string };

type Candidate = {
  readonly column: ChosenColumn;
  readonly form: "running" | "unix" | "date-time" | "clock" | "duration";
  readonly scaleS: number;
};

/**
 * Chooses the time columns. A running time (test time, elapsed time) gives the time base, because a calendar clock may be set
 * while logging; a date gives the start. What a bare "Time" column holds is told from its first values.
 */
export function planTime(
  columns: readonly ChosenColumn[],
  sampleOf: (field: number) => readonly string[],
): TimePlanOutcome {
  const candidates = columns.flatMap((column) => candidateOf(column, sampleOf(column.field)));
  if (candidates.length === 0) {
    const sentence = "No column of this file is a time; export it with elapsed seconds or with date and time.";
    return { kind: "unusable", reason: "no-time-column", sentence };
  }
  const dated = candidates.find((candidate) => candidate.form === "date-time");
  const told = dated === undefined ? "year-first" : dayOrderOf(sampleOf(dated.column.field));
  const said = dated?.column.meaning.dayOrder ?? null;
  const closer = dated === undefined || told !== "ambiguous" ? null : closerOrder(sampleOf(dated.column.field));
  const dayOrder = told === "ambiguous" ? (said ?? closer ?? "day-first") : (told ?? "year-first");
  const openDayOrder =
    dated === undefined || told !== "ambiguous" || said !== null ? null : { field: dated.column.field, closer };

  const clock = candidates.find((candidate) => candidate.form === "clock");
  const dateOnly = dated?.column.meaning.quantity === "date" ? dated : undefined;
  const running = candidates.find((candidate) => candidate.form === "running" || candidate.form === "duration");
  const unix = candidates.find((candidate) => candidate.form === "unix") ?? dated;
  const joinedClock = dateOnly !== undefined && unix === dateOnly ? clock : undefined;
  const base = running ?? (unix === undefined ? clock : undefined);

  const readings = new Map<number, FieldReading>();
  for (const candidate of [base, unix, joinedClock]) {
    if (candidate !== undefined) readings.set(candidate.column.field, readingOf(candidate));
  }
  const remarks =
    base !== undefined &&
    base.column.meaning.unit === null &&
    base.form === "running" &&
    base.column.meaning.quantity !== "test-time"
      ? [`Column '${base.column.header}' states no unit and is taken for seconds.`]
      : [];
  const plan: TimePlan = {
    running: base === undefined ? null : { field: base.column.field, scaleS: base.scaleS },
    unix:
      unix === undefined
        ? null
        : { field: unix.column.field, clockField: joinedClock?.column.field ?? null, scaleS: unix.scaleS },
    fromText: unix?.form === "date-time",
    timeOfDay: base?.form === "clock",
  };
  if (openDayOrder !== null)
    remarks.push(
      `Day and month cannot be told apart in column '${dated?.column.header}': no date of the file is believed until somebody says which comes first.`,
    );
  return { kind: "plan", plan, readings, dayOrder, openDayOrder, remarks };
}

function readingOf(candidate: Candidate): FieldReading {
  if (candidate.form === "date-time" || candidate.form === "clock" || candidate.form === "duration")
    return candidate.form;
  return "number";
}

function candidateOf(column: ChosenColumn, sample: readonly string[]): Candidate[] {
  const { quantity, unit } = column.meaning;
  const values = sample.filter((text) => text !== "");
  const scaleS = unit?.dimension === "time" ? unit.scale : 1;
  const mostly = (test: (text: string) => boolean) => values.filter(test).length > values.length / 2;
  switch (quantity) {
    case "test-time":
      return [{ column, form: mostly((text) => readDuration(text) !== null) ? "duration" : "running", scaleS }];
    case "unix-time":
      return [{ column, form: "unix", scaleS: unit === null ? (epochScaleS(values) ?? 1) : scaleS }];
    case "date":
      return dayOrderOf(values) === null ? [] : [{ column, form: "date-time", scaleS: 1 }];
    case "time-of-some-kind": {
      if (dayOrderOf(values) !== null) return [{ column, form: "date-time", scaleS: 1 }];
      if (mostly((text) => readClock(text) !== null)) return [{ column, form: "clock", scaleS: 1 }];
      if (mostly((text) => readDuration(text) !== null)) return [{ column, form: "duration", scaleS: 1 }];
      const epoch = unit === null ? epochScaleS(values) : null;
      return [epoch === null ? { column, form: "running", scaleS } : { column, form: "unix", scaleS: epoch }];
    }
    default:
      return [];
  }
}

/**
 * Factor to seconds of a count since 1970, told from its size: the years 2001 to 2286 have ten digits in seconds, thirteen in
 * milliseconds, sixteen in microseconds, nineteen in nanoseconds. Null where the size is none of these.
 */
function epochScaleS(values: readonly string[]): number | null {
  const first = Number(values.find((text) => Number(text.replace(",", ".")) > 0)?.replace(",", "."));
  for (const power of [0, 3, 6, 9]) if (first >= 10 ** (9 + power) && first < 10 ** (10 + power)) return 10 ** -power;
  return null;
}
