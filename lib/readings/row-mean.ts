/** The mean of the values that several columns have in each row; NaN where none has one. */
export function rowMean(columns: readonly Float64Array[], rows: number): Float64Array {
  const mean = new Float64Array(rows);
  const counted = new Int32Array(rows);
  for (const column of columns) {
    for (let row = 0; row < rows; row++) {
      const value = column[row] ?? Number.NaN;
      if (Number.isNaN(value)) continue;
      mean[row] = (mean[row] ?? 0) + value;
      counted[row] = (counted[row] ?? 0) + 1;
    }
  }
  for (let row = 0; row < rows; row++) mean[row] = (mean[row] ?? 0) / (counted[row] ?? 0);
  return mean;
}
