/** Highest less lowest of the probes that read in this row, K; 0 where fewer than two do. */
export function spreadAt(columns: readonly Float64Array[], row: number): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const column of columns) {
    const warm = column[row] ?? Number.NaN;
    if (warm < low) low = warm;
    if (warm > high) high = warm;
  }
  return high >= low ? high - low : 0;
}

/** Largest difference between probes in one row, K; `null` where no row has two. Rows may be chosen by `counts`. */
export function widestTemperatureSpreadK(
  columns: readonly Float64Array[],
  counts: (row: number) => boolean = () => true,
): { spreadK: number; row: number } | null {
  let widest: { spreadK: number; row: number } | null = null;
  const rows = columns[0]?.length ?? 0;
  for (let row = 0; row < rows; row += 1) {
    if (!counts(row)) continue;
    const spreadK = spreadAt(columns, row);
    if (spreadK > (widest?.spreadK ?? 0)) widest = { spreadK, row };
  }
  return widest;
}

/**
 * Steepest rise of a temperature over about `windowS`, K/min, and the row where it ends: the latest row at least 5/6 of
 * the window and at most 7/6 of it before each row is taken (50 to 70 s for a minute). `null` where there is none.
 */
export function steepestRiseKPerMin(
  timeS: Float64Array,
  valuesC: Float64Array,
  windowS = 60,
): { rate: number; row: number } | null {
  let steepest: { rate: number; row: number } | null = null;
  let from = 0;
  for (let row = 1; row < timeS.length; row += 1) {
    const end = (timeS[row] ?? 0) - (5 / 6) * windowS;
    while (from + 1 < row && (timeS[from + 1] ?? 0) <= end) from += 1;
    const seconds = (timeS[row] ?? 0) - (timeS[from] ?? 0);
    if (seconds < (5 / 6) * windowS || seconds > (7 / 6) * windowS) continue;
    const rate = (((valuesC[row] ?? Number.NaN) - (valuesC[from] ?? Number.NaN)) / seconds) * 60;
    if (Number.isFinite(rate) && (steepest === null || rate > steepest.rate)) steepest = { rate, row };
  }
  return steepest;
}
