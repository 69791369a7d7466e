import { readPlausibleRows } from "@/lib/readings/measure/plausible-rows";
import type { ReadingLog } from "@/lib/readings/reading-log";

/** Deviation of every group from the median group, over stretches of equally many rows. Millivolt, whole numbers. */
export interface DeviationMap {
  /** Seconds since the first row at the start of each stretch. */
  readonly timeS: readonly number[];
  readonly rowsPerBucket: number;
  /** Group 1 first. Null where no plausible value was logged in that stretch. */
  readonly groups: readonly GroupDeviations[];
}

export interface GroupDeviations {
  readonly meanMillivolt: readonly (number | null)[];
  /** The row that stands farthest from the median group, with its sign: one bad row is never averaged away. */
  readonly farthestMillivolt: readonly (number | null)[];
}

/** Columns that can still be told apart in the picture. Engineering default. */
const BUCKETS = 120;

/**
 * Cell by time: how far each group lies from the median of the groups in the same row, as mean and as farthest single row
 * of each stretch. Implausible values (outside `plausibleV`, V) count as not logged. Null where fewer than three groups
 * were logged, because the median would be one of the two compared. `medianV` holds the medians of this log's rows, V, where
 * they are known already. O(rows · groups).
 */
export function deviationMap(
  log: ReadingLog,
  plausibleV: readonly [number, number],
  medianV: Float64Array | null = null,
): DeviationMap | null {
  const groups = log.cellVoltagesV.length;
  if (groups < 3 || log.rows === 0) return null;
  const referenceV = medianV ?? readPlausibleRows(log.cellVoltagesV, log.rows, plausibleV).referenceV;
  const rowsPerBucket = Math.max(1, Math.ceil(log.rows / BUCKETS));
  const buckets = Math.ceil(log.rows / rowsPerBucket);
  return {
    timeS: Array.from({ length: buckets }, (_, bucket) => Math.round(log.timeS[bucket * rowsPerBucket] ?? 0)),
    rowsPerBucket,
    groups: log.cellVoltagesV.map((column) => {
      const meanMillivolt: (number | null)[] = [];
      const farthestMillivolt: (number | null)[] = [];
      for (let bucket = 0; bucket < buckets; bucket += 1) {
        const found = deviations(column, referenceV, bucket * rowsPerBucket, rowsPerBucket, plausibleV);
        meanMillivolt.push(found?.mean ?? null);
        farthestMillivolt.push(found?.farthest ?? null);
      }
      return { meanMillivolt, farthestMillivolt };
    }),
  };
}

function deviations(
  column: Float64Array,
  referenceV: Float64Array,
  from: number,
  rows: number,
  [low, high]: readonly [number, number],
): { mean: number; farthest: number } | null {
  let sum = 0;
  let count = 0;
  let farthest = 0;
  const until = Math.min(column.length, from + rows);
  for (let row = from; row < until; row += 1) {
    const volt = column[row] ?? Number.NaN;
    const off = volt - (referenceV[row] ?? Number.NaN);
    if (!(volt >= low && volt <= high) || Number.isNaN(off)) continue;
    sum += off;
    count += 1;
    if (Math.abs(off) > Math.abs(farthest)) farthest = off;
  }
  // Adding zero turns a minus zero, which would not survive being stored, into zero.
  return count === 0 ? null : { mean: Math.round((1000 * sum) / count) + 0, farthest: Math.round(1000 * farthest) + 0 };
}
