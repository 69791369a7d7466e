/** A column of zeros that another thread may read, and fill, without a copy. */
export function sharedFloats(rows: number): Float64Array {
  return new Float64Array(new SharedArrayBuffer(8 * rows));
}

/** The same of whole numbers. */
export function sharedInts(rows: number): Int32Array {
  return new Int32Array(new SharedArrayBuffer(4 * rows));
}

/**
 * So many of the first kind in one block. A long log's block goes back to the system the moment nobody holds it: the allocator of a GNU/Linux
 * system keeps what a thread gives back in blocks of up to 32 MiB, and the columns of one file would lie beside those of the next.
 */
export function sharedTable(columns: number, rows: number): Float64Array[] {
  const block = new SharedArrayBuffer(8 * rows * columns);
  return Array.from({ length: columns }, (_, at) => new Float64Array(block, 8 * rows * at, rows));
}
