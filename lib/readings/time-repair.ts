import { sharedFloats, sharedInts } from "@/lib/readings/shared-columns";
import { gapLimitS } from "@/lib/readings/time-gaps";

export interface RepairedTime {
  /** Seconds since the first row; never decreases, also not from segment to segment. */
  readonly timeS: Float64Array;
  readonly segment: Int32Array;
  /** Rows whose time was replaced by that of the row before. */
  readonly resets: readonly number[];
  /** First row of each further segment, with the step of the logged clock there, s. */
  readonly steps: readonly { readonly row: number; readonly stepS: number }[];
  /** Rows that carry the same time as the row before, resets left out. */
  readonly duplicates: number;
}

/**
 * Dates before this are a clock that was never set: 2010-01-01, Unix s. Clocks that lose power start at 1970 or 2000, boards also
 * at the year they were programmed (engineering default, no authority; `earliestFor` a pack whose build date is known).
 */
const earliestBelievableUnixS = 1_262_304_000;
/** s. A pack is tested before the day its record gives, and zones differ. Engineering default. */
const beforeBuiltS = 7 * 86_400;
/** s. No logger sleeps so long with its pack at the same voltages: its clock was set. Engineering default. */
const yearS = 365 * 86_400;
/** Dates after this are a broken clock: 2100-01-01, Unix s (engineering default, no authority). */
const latestBelievableUnixS = 4_102_444_800;

/** s. Zones differ, and a clock that is set drifts: no date later than this after a file came is believed. Engineering default. */
const afterReceivedS = 2 * 86_400;

/** Last date, Unix s, that a log that came then can carry; `null` where nobody knows when it came. */
export function latestFor(receivedUnixS: number | null): number {
  return receivedUnixS === null
    ? latestBelievableUnixS
    : Math.min(latestBelievableUnixS, receivedUnixS + afterReceivedS);
}

/** First date, Unix s, that a log of this pack can carry. */
export function earliestFor(builtUnixS: number | null): number {
  return builtUnixS === null ? earliestBelievableUnixS : Math.max(earliestBelievableUnixS, builtUnixS - beforeBuiltS);
}

export function isBelievableDate(unixS: number, earliestUnixS = earliestBelievableUnixS): boolean {
  return unixS >= earliestUnixS && unixS < latestBelievableUnixS;
}

/** What is known of a clock that counts Unix seconds. */
export interface CalendarClock {
  readonly earliestUnixS: number;
  /** Whether the pack stood at this row as it did at the one before. */
  readonly isUnchanged: (row: number) => boolean;
}

/**
 * Repairs a logged clock, s, without guessing at time that nobody measured.
 *
 * - One row that steps back while the next does not is a reset of that row: it takes the time of the row before.
 * - Two or three rows in a row that step back are resets of these rows where the clock goes on after them as if nothing had happened:
 *   no later than a gap may last.
 * - One row that leaps ahead while the next comes back is treated the same way.
 * - A clock that steps back and stays back, that is set from an unbelievable date to a believable one, from one before the
 *   pack was built to one after while the pack stands as it did or by more than a year, or that leaps by more than a year while the pack
 *   stands as it did, starts a new segment.
 *   How long the break lasted is not known; the new segment continues at the time of the row before it.
 *
 * Engineering defaults, no authority; the first rule restores the known net charge of an open reference file with 19 such
 * resets (Zenodo record 17295469). `calendar` is for a clock that counts Unix seconds. All values must be finite.
 */
export function repairTime(clockS: Float64Array, calendar: CalendarClock | null): RepairedTime {
  const rows = clockS.length;
  // Shared as the other columns are: a second thread that judges the log would have to copy them.
  const timeS = sharedFloats(rows);
  const segment = sharedInts(rows);
  const resets: number[] = [];
  const steps: { row: number; stepS: number }[] = [];
  const leapS = gapLimitS(clockS, segment);
  let duplicates = 0;
  let before = clockS[0] ?? 0;
  let shift = -before;
  for (let row = 1; row < rows; row++) {
    let now = clockS[row] ?? before;
    const next = row + 1 < rows ? (clockS[row + 1] ?? now) : null;
    const nextIsInOrder = next !== null && next >= before;
    const leapsAhead = now - before > leapS && next !== null && next < now && nextIsInOrder;
    if ((now < before && (nextIsInOrder || goesOnSoon(clockS, row, before, leapS))) || leapsAhead) {
      resets.push(row);
      now = before;
    } else if (now < before || (calendar !== null && wasSet(calendar, before, now, row))) {
      steps.push({ row, stepS: now - before });
      shift = (timeS[row - 1] ?? 0) - now;
    } else if (now === before) duplicates++;
    segment[row] = steps.length;
    timeS[row] = Math.max(now + shift, timeS[row - 1] ?? 0);
    before = now;
  }
  return { timeS, segment, resets, steps, duplicates };
}

/** Rows in a row that may be reset before a clock counts as set back. Engineering default. */
const resetRows = 3;

/** Whether a clock that steps back at this row goes on within few rows, and within `leapS`, from where it had been. */
function goesOnSoon(clockS: Float64Array, row: number, before: number, leapS: number): boolean {
  for (let at = row + 1; at <= row + resetRows; at++) {
    const now = clockS[at] ?? Number.NaN;
    if (now >= before) return now - before <= leapS;
  }
  return false;
}

function wasSet({ earliestUnixS, isUnchanged }: CalendarClock, before: number, now: number, row: number): boolean {
  if (before < earliestBelievableUnixS && now >= earliestUnixS) return true;
  // A date before the pack was built, and yet one a set clock can show: a test at the works, unless the pack stands as it did.
  const setSinceBuilt = before < earliestUnixS && now >= earliestUnixS && (now - before > yearS || isUnchanged(row));
  return setSinceBuilt || (now - before > yearS && isUnchanged(row));
}

/**
 * Whether most steps of a clock go back: the file lists its newest row first. A clock that starts again after `turnS`, as a time of day
 * does, goes the shorter way round.
 */
export function runsBackwards(clockS: Float64Array, turnS = Number.POSITIVE_INFINITY): boolean {
  let back = 0;
  let moved = 0;
  for (let row = 1; row < clockS.length; row++) {
    const step = (clockS[row] ?? 0) - (clockS[row - 1] ?? 0);
    if (step !== 0) moved++;
    if ((step < 0 && step >= -turnS / 2) || step > turnS / 2) back++;
  }
  return moved >= 2 && back > 0.9 * moved;
}
