/** Rows of one block: 32,768 doubles are 256 kB a column. */
const blockRows = 32_768;

/**
 * Growing columns of numbers. Kept in blocks rather than doubled arrays: at a million rows and thirty columns doubling would hold
 * up to three times the data for a moment. `finish` joins one column at a time and lets its blocks go.
 */
export function createColumnBlocks(columnCount: number) {
  const blocks: Float64Array[][] = Array.from({ length: columnCount }, () => []);
  const lineBlocks: Int32Array[] = [];
  let current: Float64Array[] = [];
  let currentLines = new Int32Array(0);
  let used = blockRows;
  let rows = 0;

  function openBlock(): void {
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
      if (used === blockRows) openBlock();
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
        column.forEach((block, at) => {
          const from = at * blockRows;
          joined.set(rows - from < blockRows ? block.subarray(0, rows - from) : block, from);
        });
        column.length = 0;
        return joined;
      });
      const line = new Int32Array(rows);
      lineBlocks.forEach((block, at) => {
        const from = at * blockRows;
        line.set(rows - from < blockRows ? block.subarray(0, rows - from) : block, from);
      });
      return { rows, columns, line };
    },
  };
}
