/** Rows of the first block; every further block is twice as long up to the largest, of 256 kB a column. */
const firstBlockRows = 256;
const largestBlockRows = 32_768;

/**
 * Growing columns of numbers. Kept in blocks rather than doubled arrays: at a million rows and thirty columns doubling would hold
 * up to three times the data for a moment. `finish` joins one column at a time and lets its blocks go.
 */
export function createColumnBlocks(columnCount: number) {
  const blocks: Float64Array[][] = Array.from({ length: columnCount }, () => []);
  const lineBlocks: Int32Array[] = [];
  let current: Float64Array[] = [];
  let currentLines = new Int32Array(0);
  let used = 0;
  let rows = 0;

  function openBlock(): void {
    const blockRows = lineBlocks.length === 0 ? firstBlockRows : Math.min(2 * currentLines.length, largestBlockRows);
    current = blocks.map((column) => {
      const block = new Float64Array(blockRows);
      column.push(block);
      return block;
    });
    currentLines = new Int32Array(blockRows);
    lineBlocks.push(currentLines);
    used = 0;
  }

  return {
    rows: (): number => rows,
    /** Appends one row; `values` holds one number a column and is copied. */
    add(values: Float64Array, line: number): void {
      if (used === currentLines.length) openBlock();
      for (let column = 0; column < columnCount; column++) {
        const block = current[column];
        if (block !== undefined) block[used] = values[column] ?? Number.NaN;
      }
      currentLines[used] = line;
      used++;
      rows++;
    },
    finish(): { readonly rows: number; readonly columns: Float64Array[]; readonly line: Int32Array } {
      const columns = blocks.map((column) => {
        const joined = new Float64Array(rows);
        joinInto(joined, column);
        column.length = 0;
        return joined;
      });
      const line = new Int32Array(rows);
      joinInto(line, lineBlocks);
      return { rows, columns, line };
    },
  };
}

/** Copies blocks one after the other until the target is full. */
function joinInto<Numbers extends Float64Array | Int32Array>(target: Numbers, blocks: readonly Numbers[]): void {
  let at = 0;
  for (const block of blocks) {
    target.set(block.subarray(0, target.length - at), at);
    at += block.length;
  }
}
