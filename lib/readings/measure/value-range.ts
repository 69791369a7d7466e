import { oncePer } from "@/lib/readings/once-per";

export interface ValueRange {
  readonly lowest: number;
  readonly highest: number;
}

/**
 * Lowest and highest of the values that are numbers; infinite the other way round (lowest above highest) where none is. A column of a log
 * is asked again by every stage, and never changes once it is decoded.
 */
export const rangeOf = oncePer((values: Float64Array): ValueRange => {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  // By index: this runs over whole columns, and an iterator takes several times as long.
  for (let row = 0; row < values.length; row += 1) {
    const value = values[row] ?? Number.NaN;
    if (value < lowest) lowest = value;
    if (value > highest) highest = value;
  }
  return { lowest, highest };
});

/** Highest or lowest of the columns in one row, by `pick`, of what lies within `plausible`; NaN where none does. */
export function extremeInRow(
  columns: readonly Float64Array[],
  row: number,
  pick: (a: number, b: number) => number,
  plausible: readonly [number, number],
): number {
  let found = Number.NaN;
  for (const column of columns) {
    const warm = column[row] ?? Number.NaN;
    if (warm >= plausible[0] && warm <= plausible[1]) found = Number.isNaN(found) ? warm : pick(found, warm);
  }
  return found;
}
