/** The lowest and highest value among the groups in each row, as logged; NaN where none was. */
export function extremeGroups(cells: readonly Float64Array[], rows: number) {
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
