/**
 * Rows looked at for the noise of a column: all of a log of up to so many, evenly spread ones of a longer log. A median absolute
 * deviation of a hundred thousand values is known to half a percent (engineering default, no authority).
 */
export const noiseRows = 100_000;

/** Every nth value of a column, from the first on; the column itself for n up to 1. */
export function everyNth(column: Float64Array, n: number): Float64Array {
  if (n <= 1) return column;
  const kept = new Float64Array(Math.ceil(column.length / n));
  for (let place = 0; place < kept.length; place += 1) kept[place] = column[place * n] ?? Number.NaN;
  return kept;
}
