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

/**
 * Reduces a log to what can be drawn, keeping the lowest and the highest value of each bucket, so that a spike of one
 * row is never lost. Buckets hold equally many rows: a logger's sleep takes no width, its busy times do. `extremes` are those
 * of this log's rows as logged, where they are known already.
 */
export function tracePicture(
  log: ReadingLog,
  groupsOfInterest: readonly number[],
  extremes: ExtremeGroups = extremeGroups(log.cellVoltagesV, log.rows),
): TracePicture {
  const rowsPerBucket = Math.max(1, Math.ceil(log.rows / BUCKETS));
  const buckets = Math.ceil(log.rows / rowsPerBucket);
  const timeS = Array.from({ length: buckets }, (_, bucket) => Math.round(log.timeS[bucket * rowsPerBucket] ?? 0));
  const draw = (key: string, label: string, unit: TraceSeries["unit"], values: Float64Array, group: number | null) => ({
    key,
    label,
    unit,
    group,
    ...envelope(values, rowsPerBucket, buckets),
  });
  const cells = log.cellVoltagesV;
  const { lowest, highest } = extremes;
  // Two findings may name one group: it is drawn once.
  const chosen = [...new Set(groupsOfInterest)].filter((group) => group >= 1 && group <= cells.length).slice(0, 4);
  const series = [
    draw("current", "Current", "A", log.currentA, null),
    draw("pack", "Pack voltage", "V", log.packVoltageV, null),
    draw("lowest-cell", "Lowest group", "V", lowest, null),
    draw("highest-cell", "Highest group", "V", highest, null),
    ...chosen.map((group) =>
      draw(`group-${group}`, `Group ${group}`, "V", cells[group - 1] ?? new Float64Array(log.rows), group),
    ),
    ...log.temperatures.map(({ name, valuesC }) => draw(name, name, "degC", valuesC, null)),
    ...(log.mosfetTemperatureC ? [draw("mosfet", "Power stage", "degC", log.mosfetTemperatureC, null)] : []),
    ...(log.socPercent ? [draw("soc", "State of charge", "%", log.socPercent, null)] : []),
  ];
  return { timeS, rowsPerBucket, series: series.filter(hasValues) };
}

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
