/** The lowest and highest value among the groups in each row, V; NaN where none was. */
export interface ExtremeGroups {
  readonly lowest: Float64Array;
  readonly highest: Float64Array;
}

/** As logged, whatever a cell can have. */
export function extremeGroups(cells: readonly Float64Array[], rows: number): ExtremeGroups {
  const lowest = new Float64Array(rows).fill(Number.NaN);
  const highest = new Float64Array(rows).fill(Number.NaN);
  for (let from = 0; from < rows; from += BLOCK_ROWS) {
    const until = Math.min(rows, from + BLOCK_ROWS);
    for (const cell of cells) {
      // By index: this runs over every value of a file, and an iterator of pairs takes several times as long.
      for (let row = from; row < until; row++) {
        const value = cell[row] ?? Number.NaN;
        if (Number.isNaN(value)) continue;
        if (!((lowest[row] ?? Number.NaN) <= value)) lowest[row] = value;
        if (!((highest[row] ?? Number.NaN) >= value)) highest[row] = value;
      }
    }
  }
  return { lowest, highest };
}

/** Rows worked through for all groups before the next: their extremes stay in the processor's cache. */
const BLOCK_ROWS = 1024;

/**
 * The same from the extremes of the plausible values, where these are known: only rows with a group left out have to be looked at
 * again. `plausibleGroups` tells how many groups of each row were plausible.
 */
export function extremesAsLogged(
  cells: readonly Float64Array[],
  plausible: ExtremeGroups,
  plausibleGroups: Uint16Array,
): ExtremeGroups {
  const lowest = plausible.lowest.slice();
  const highest = plausible.highest.slice();
  for (let row = 0; row < plausibleGroups.length; row += 1) {
    if (plausibleGroups[row] === cells.length) continue;
    let low = Number.NaN;
    let high = Number.NaN;
    for (const cell of cells) {
      const value = cell[row] ?? Number.NaN;
      if (Number.isNaN(value)) continue;
      if (!(low <= value)) low = value;
      if (!(high >= value)) high = value;
    }
    lowest[row] = low;
    highest[row] = high;
  }
  return { lowest, highest };
}
