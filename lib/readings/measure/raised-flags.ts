import { hasProtectionFlag, type ProtectionFlag, protectionFlagNames } from "@/lib/readings/protection-flags";
import type { ReadingLog } from "@/lib/readings/reading-log";

/** One bit of the protection flags as it was raised in a log. */
export interface RaisedFlag {
  readonly flag: ProtectionFlag;
  /** Rows in which the bit is set and was not in the row before that had flags. */
  readonly raisedAt: readonly number[];
  readonly rows: number;
  readonly lastRow: number;
}

/** Every flag that was raised at all, in the order of the bits. */
export function raisedFlags({ protectionFlags, rows }: ReadingLog): RaisedFlag[] {
  // Most logs raise no flag at all: then no bit has to be looked for.
  if (protectionFlags === null || !protectionFlags.some((word) => word > 0)) return [];
  return protectionFlagNames.flatMap((flag) => {
    const raisedAt: number[] = [];
    let count = 0;
    let lastRow = -1;
    let before = false;
    for (let row = 0; row < rows; row += 1) {
      const word = protectionFlags[row] ?? Number.NaN;
      if (!Number.isFinite(word)) continue;
      const set = word > 0 && hasProtectionFlag(word, flag);
      if (set) {
        if (!before) raisedAt.push(row);
        count += 1;
        lastRow = row;
      }
      before = set;
    }
    return count === 0 ? [] : [{ flag, raisedAt, rows: count, lastRow }];
  });
}

/** Words of flags that nobody gave a meaning, as they were raised. */
export interface RaisedWords {
  /** Rows whose word is another than in the row before, and not 0. */
  readonly raisedAt: readonly number[];
  readonly rows: number;
}

/** Null where none was raised. */
export function raisedWords({ otherFlags, rows }: ReadingLog): RaisedWords | null {
  if (otherFlags === null || !otherFlags.some((word) => word > 0)) return null;
  const raisedAt: number[] = [];
  let count = 0;
  let before = 0;
  for (let row = 0; row < rows; row += 1) {
    const word = otherFlags[row] ?? Number.NaN;
    if (!Number.isFinite(word)) continue;
    if (word > 0) count += 1;
    if (word > 0 && word !== before) raisedAt.push(row);
    before = word;
  }
  return { raisedAt, rows: count };
}

const dayS = 86_400;

/** Most raisings of a flag within any 24 hours of one clock. */
export function mostInADay({ raisedAt }: RaisedFlag, { timeS, segment }: ReadingLog): number {
  let most = 0;
  let from = 0;
  for (const [place, row] of raisedAt.entries()) {
    const isPast = (earlier: number) =>
      segment[earlier] !== segment[row] || (timeS[row] ?? 0) - (timeS[earlier] ?? 0) >= dayS;
    while (from < place && isPast(raisedAt[from] ?? row)) from += 1;
    most = Math.max(most, place - from + 1);
  }
  return most;
}
