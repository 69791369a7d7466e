/** Rows made room for where nothing is known about the length of the file (engineering default, no authority). */
const firstRows = 4096;

/** Columns of numbers being filled, with the line in the file that each row stood in. */
export interface ColumnTable {
  /** Room for `capacity` rows each; `reserve` may replace them. */
  columns: Float64Array[];
  line: Int32Array;
  capacity: number;
  rows: number;
}

/** Memory for so many bytes: private, or shared with other threads. */
export type MakeBuffer = (bytes: number) => ArrayBuffer | SharedArrayBuffer;

export const privateBuffer: MakeBuffer = (bytes) => new ArrayBuffer(bytes);

/** An empty table with room for the rows expected. Room that is never written costs addresses, not memory. */
export function createColumnTable(columnCount: number, expectedRows = firstRows, make = privateBuffer): ColumnTable {
  const capacity = Math.max(1, Math.ceil(expectedRows));
  return {
    columns: Array.from({ length: columnCount }, () => new Float64Array(make(8 * capacity))),
    line: new Int32Array(make(4 * capacity)),
    capacity,
    rows: 0,
  };
}

/** Makes room for half as many rows again, one column after the other, so that only one is held twice for a moment. */
export function growTable(table: ColumnTable, make = privateBuffer): void {
  const capacity = Math.max(firstRows, Math.ceil(table.capacity * 1.5));
  for (const [at, column] of table.columns.entries()) {
    const grown = new Float64Array(make(8 * capacity));
    grown.set(column);
    table.columns[at] = grown;
  }
  const line = new Int32Array(make(4 * capacity));
  line.set(table.line);
  table.line = line;
  table.capacity = capacity;
}
