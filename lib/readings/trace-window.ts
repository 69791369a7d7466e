import type { TracePicture } from "./trace-picture";

/** Part of a log, drawn: as a picture, with the rows it shows. */
export interface TraceWindow extends TracePicture {
  /** First row, counted from 0. */
  readonly fromRow: number;
  /** Row after the last. */
  readonly toRow: number;
  readonly rowsInLog: number;
}

/** Rows whose lowest and highest value are kept ready, so that a long window need not be read row by row. */
export const BLOCK_ROWS = 256;
/** Stretches of one window: more cannot be told apart on a wide screen. Engineering default. */
export const WINDOW_BUCKETS = 400;
/** A window narrower than this shows nothing more. */
export const LEAST_WINDOW_ROWS = 8;

export interface WindowPlan {
  readonly fromRow: number;
  readonly toRow: number;
  readonly rowsPerBucket: number;
  readonly buckets: number;
  /** Whether the kept blocks serve: every stretch is then made of whole blocks. */
  readonly byBlocks: boolean;
}

/**
 * Which stretches show the rows asked for: brought inside the log, at least eight rows wide, and where a stretch would be
 * longer than a block, widened to whole blocks, so that lowest and highest of a stretch come from its own rows and no row
 * is left out. Domain: a log of one row or more; anything may be asked for.
 */
export function planWindow(rowsInLog: number, askedFrom: number, askedTo: number): WindowPlan {
  if (!(rowsInLog >= 1)) throw new RangeError(`rowsInLog: ${rowsInLog} is no log`);
  const least = Math.min(rowsInLog, LEAST_WINDOW_ROWS);
  let fromRow = Math.min(Math.max(0, Math.floor(askedFrom) || 0), rowsInLog - least);
  let toRow = Math.min(rowsInLog, Math.max(fromRow + least, Math.ceil(askedTo) || 0));
  const plain = Math.max(1, Math.ceil((toRow - fromRow) / WINDOW_BUCKETS));
  const byBlocks = plain > BLOCK_ROWS;
  const rowsPerBucket = byBlocks ? Math.ceil(plain / BLOCK_ROWS) * BLOCK_ROWS : plain;
  if (byBlocks) {
    fromRow = Math.floor(fromRow / BLOCK_ROWS) * BLOCK_ROWS;
    toRow = Math.min(rowsInLog, fromRow + Math.ceil((toRow - fromRow) / rowsPerBucket) * rowsPerBucket);
  }
  return { fromRow, toRow, rowsPerBucket, buckets: Math.ceil((toRow - fromRow) / rowsPerBucket), byBlocks };
}

/** Lowest and highest finite value of each run of `length` entries; null where a run holds none. */
export function lowestAndHighest(
  lows: ArrayLike<number>,
  highs: ArrayLike<number>,
  length: number,
): { lowest: (number | null)[]; highest: (number | null)[] } {
  const lowest: (number | null)[] = [];
  const highest: (number | null)[] = [];
  for (let from = 0; from < lows.length; from += length) {
    let low: number | null = null;
    let high: number | null = null;
    for (let at = from; at < Math.min(lows.length, from + length); at += 1) {
      const one = lows[at] ?? Number.NaN;
      const other = highs[at] ?? Number.NaN;
      if (Number.isFinite(one) && (low === null || one < low)) low = one;
      if (Number.isFinite(other) && (high === null || other > high)) high = other;
    }
    lowest.push(low === null ? null : Number(low.toFixed(4)) + 0);
    highest.push(high === null ? null : Number(high.toFixed(4)) + 0);
  }
  return { lowest, highest };
}
