import { type ExtremeGroups, extremeGroups } from "./extreme-groups";
import type { ReadingLog } from "./reading-log";

/** What is drawn of one column: lowest and highest value in each bucket of rows; null where nothing was measured. */
export interface TraceSeries {
  readonly key: string;
  readonly label: string;
  readonly unit: "V" | "A" | "degC" | "%";
  /** Series group from 1 where the trace is one cell group. */
  readonly group: number | null;
  readonly lowest: readonly (number | null)[];
  readonly highest: readonly (number | null)[];
}

export interface TracePicture {
  /** Seconds since the first row at the start of each bucket. */
  readonly timeS: readonly number[];
  readonly rowsPerBucket: number;
  readonly series: readonly TraceSeries[];
}

/** Enough for a wide screen: more buckets than this cannot be told apart in the picture. Engineering default. */
const BUCKETS = 360;
const DECIMALS = 4;

/** Traces of the columns that are always drawn, of which some may hold nothing. */
export interface ColumnTraces extends Pick<TracePicture, "timeS" | "rowsPerBucket"> {
  /** Current, pack voltage and extreme groups, drawn first. */
  readonly ofPack: readonly TraceSeries[];
  readonly ofOthers: readonly TraceSeries[];
}

/**
 * Reduces a log to what can be drawn, keeping the lowest and the highest value of each bucket, so that a spike of one
 * row is never lost. Buckets hold equally many rows: a logger's sleep takes no width, its busy times do.
 */
export function tracePicture(log: ReadingLog, groupsOfInterest: readonly number[]): TracePicture {
  return withGroupTraces(columnTraces(log), log, groupsOfInterest);
}

/** `extremes` are those of this log's rows as logged, where they are known already. */
export function columnTraces(
  log: ReadingLog,
  extremes: ExtremeGroups = extremeGroups(log.cellVoltagesV, log.rows),
): ColumnTraces {
  const rowsPerBucket = Math.max(1, Math.ceil(log.rows / BUCKETS));
  const buckets = Math.ceil(log.rows / rowsPerBucket);
  const draw = (key: string, label: string, unit: TraceSeries["unit"], values: Float64Array) => ({
    key,
    label,
    unit,
    group: null,
    ...envelope(values, rowsPerBucket, buckets),
  });
  return {
    timeS: Array.from({ length: buckets }, (_, bucket) => Math.round(log.timeS[bucket * rowsPerBucket] ?? 0)),
    rowsPerBucket,
    ofPack: [
      draw("current", "Current", "A", log.currentA),
      draw("pack", "Pack voltage", "V", log.packVoltageV),
      draw("lowest-cell", "Lowest group", "V", extremes.lowest),
      draw("highest-cell", "Highest group", "V", extremes.highest),
    ],
    ofOthers: [
      ...log.temperatures.map(({ name, valuesC }) => draw(name, name, "degC", valuesC)),
      ...(log.mosfetTemperatureC ? [draw("mosfet", "Power stage", "degC", log.mosfetTemperatureC)] : []),
      ...(log.socPercent ? [draw("soc", "State of charge", "%", log.socPercent)] : []),
    ],
  };
}

/** The whole picture, with the groups somebody asks about. */
export function withGroupTraces(
  { timeS, rowsPerBucket, ofPack, ofOthers }: ColumnTraces,
  { cellVoltagesV }: ReadingLog,
  groupsOfInterest: readonly number[],
): TracePicture {
  // Two findings may name one group: it is drawn once.
  const chosen = [...new Set(groupsOfInterest)].flatMap((group) => {
    const values = cellVoltagesV[group - 1];
    return values === undefined ? [] : [{ group, values }];
  });
  const ofGroups = chosen.slice(0, GROUPS_DRAWN).map(({ group, values }) => ({
    key: `group-${group}`,
    label: `Group ${group}`,
    unit: "V" as const,
    group,
    ...envelope(values, rowsPerBucket, timeS.length),
  }));
  return { timeS, rowsPerBucket, series: [...ofPack, ...ofGroups, ...ofOthers].filter(hasValues) };
}

/** More lines than this cannot be told apart. Engineering default. */
const GROUPS_DRAWN = 4;

function envelope(values: Float64Array, rowsPerBucket: number, buckets: number) {
  const lowest: (number | null)[] = [];
  const highest: (number | null)[] = [];
  for (let bucket = 0; bucket < buckets; bucket += 1) {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    const until = Math.min(values.length, (bucket + 1) * rowsPerBucket);
    // By index: this runs over every row of every trace, and an iterator takes several times as long.
    for (let row = bucket * rowsPerBucket; row < until; row += 1) {
      const value = values[row] ?? Number.NaN;
      // Neither infinite nor NaN, whose difference from itself is NaN.
      if (value - value !== 0) continue;
      if (value < low) low = value;
      if (value > high) high = value;
    }
    lowest.push(rounded(low));
    highest.push(rounded(high));
  }
  return { lowest, highest };
}

/** Infinite where nothing was measured. */
function rounded(value: number): number | null {
  return Number.isFinite(value) ? Number(value.toFixed(DECIMALS)) : null;
}

function hasValues(series: TraceSeries): boolean {
  return series.lowest.some((value) => value !== null);
}
