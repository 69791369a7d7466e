import type { LifeCount } from "./life-counts";
import { LifeTally } from "./life-tally";

/** Lives as columns of equal length, one place a unit. */
export interface LifeColumns {
  /** Number of the group of each unit, from 0. */
  readonly group: ArrayLike<number>;
  /** Age at entry, or null where all were watched from the start. */
  readonly entry: ArrayLike<number> | null;
  readonly exit: ArrayLike<number>;
  /** 1 failed, 0 last seen running. */
  readonly failed: ArrayLike<number>;
}

/** Largest number of cells (groups times ages) counted directly: 32 MB. Beyond it each life goes through the tally. */
const MOST_CELLS = 4_000_000;

/**
 * The counts per distinct age of each group: what a life tally fed row by row gives, for data that lie in memory as columns.
 *
 * Where all ages are whole and small, units are counted straight into cells by group and age (a counting sort); otherwise
 * they go through the tally. Throws a RangeError on a life that the tally refuses, a group outside 0 to groups - 1, or
 * columns of unequal length.
 */
export function countLifeColumns(columns: LifeColumns, groups: number): LifeCount[][] {
  const { group, entry, exit, failed } = columns;
  const units = exit.length;
  if (group.length !== units || failed.length !== units || (entry !== null && entry.length !== units))
    throw new RangeError("the columns must be of equal length");
  return countInCells(columns, groups) ?? countInTallies(columns, groups);
}

/** Null where an age is not whole or too large, a life cannot be, or a group is unknown: the tally then says what is wrong. */
function countInCells({ group, entry, exit, failed }: LifeColumns, groups: number): LifeCount[][] | null {
  const units = exit.length;
  let oldest = 0;
  for (let i = 0; i < units; i++) {
    const age = exit[i] ?? Number.NaN;
    if (age > oldest) oldest = age;
  }
  const width = oldest + 1;
  if (!(width * groups <= MOST_CELLS)) return null;
  const failures = new Float64Array(width * groups);
  const censored = new Float64Array(width * groups);
  const entered = new Float64Array(width * groups);
  for (let i = 0; i < units; i++) {
    const g = group[i] ?? -1;
    const to = exit[i] ?? -1;
    const from = entry === null ? 0 : (entry[i] ?? -1);
    if ((to | 0) !== to || (from | 0) !== from || from < 0 || to <= from || (g | 0) !== g || g < 0 || g >= groups)
      return null;
    const cell = g * width + to;
    if (failed[i] === 1) failures[cell] = (failures[cell] ?? 0) + 1;
    else censored[cell] = (censored[cell] ?? 0) + 1;
    if (entry === null) continue;
    const start = g * width + from;
    entered[start] = (entered[start] ?? 0) + 1;
  }
  if (entry === null) enterAllAtZero(entered, failures, censored, width);
  return Array.from({ length: groups }, (_, g) => {
    const counts: LifeCount[] = [];
    for (let age = 0, cell = g * width; age < width; age++, cell++) {
      const [came, died, left] = [entered[cell] ?? 0, failures[cell] ?? 0, censored[cell] ?? 0];
      if (came + died + left > 0) counts.push({ age, entered: came, failed: died, censored: left });
    }
    return counts;
  });
}

function enterAllAtZero(entered: Float64Array, failures: Float64Array, censored: Float64Array, width: number): void {
  for (let cell = 0; cell < entered.length; cell++) {
    const start = cell - (cell % width);
    entered[start] = (entered[start] ?? 0) + (failures[cell] ?? 0) + (censored[cell] ?? 0);
  }
}

function countInTallies({ group, entry, exit, failed }: LifeColumns, groups: number): LifeCount[][] {
  const tallies = Array.from({ length: groups }, () => new LifeTally());
  for (let i = 0; i < exit.length; i++) {
    const tally = tallies[group[i] ?? -1];
    if (tally === undefined) throw new RangeError(`unit ${i} is of an unknown group: ${group[i]}`);
    tally.add(entry === null ? 0 : (entry[i] ?? Number.NaN), exit[i] ?? Number.NaN, failed[i] === 1);
  }
  return tallies.map((tally) => tally.counts());
}
