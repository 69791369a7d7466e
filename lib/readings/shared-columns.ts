/** A column of zeros that another thread may read, and fill, without a copy. */
export function sharedFloats(rows: number): Float64Array {
  return new Float64Array(new SharedArrayBuffer(8 * rows));
}
