/**
 * Lowest value of a column over a window of rows whose ends both only move forward.
 *
 * Keeps the rows that may yet become the lowest, in order of row and of value (a monotonic queue), so that a walk over a whole
 * column costs a few steps a row however wide the window is.
 */
export class SlidingLowest {
  private readonly column: Float64Array;
  private readonly queue: Int32Array;
  private first = 0;
  private end = 0;

  constructor(column: Float64Array) {
    this.column = column;
    this.queue = new Int32Array(column.length);
  }

  /** Takes a row into the window; rows come in order, each once. A row whose value is not finite counts for nothing. */
  take(row: number): void {
    const value = this.column[row] ?? Number.NaN;
    if (!Number.isFinite(value)) return;
    while (this.end > this.first && (this.column[this.queue[this.end - 1] ?? 0] ?? Number.NaN) >= value) this.end -= 1;
    this.queue[this.end] = row;
    this.end += 1;
  }

  /** Lowest value from `fromRow` on up to the last row taken; infinite where none is finite. `fromRow` never goes back. */
  lowestFrom(fromRow: number): number {
    while (this.first < this.end && (this.queue[this.first] ?? 0) < fromRow) this.first += 1;
    return this.first < this.end
      ? (this.column[this.queue[this.first] ?? 0] ?? Number.POSITIVE_INFINITY)
      : Number.POSITIVE_INFINITY;
  }
}
