/**
 * Stage 3, what is a value at all: a voltage no cell can have (a sentinel, a frame cut off, an open input) stays in the log and counts
 * for nothing here. Median, sum, extremes and number of the plausible group voltages of every row.
 *
 * The median is the reference every group is compared with: unlike the mean it does not follow one sick group.
 * Ranks hardly change from row to row, so an insertion sort that starts from the last row's order is close to linear.
 */
export function readPlausibleRows(cells: readonly Float64Array[], rows: number, plausibleV: readonly [number, number]) {
  const [low, high] = plausibleV;
  const groups = cells.length;
  const referenceV = new Float64Array(rows).fill(Number.NaN);
  const sumV = new Float64Array(rows).fill(Number.NaN);
  const lowestV = new Float64Array(rows).fill(Number.NaN);
  const highestV = new Float64Array(rows).fill(Number.NaN);
  const plausibleGroups = new Uint16Array(rows);
  const order = cells.slice();
  const sorted = new Float64Array(groups);
  const needed = Math.max(1, Math.ceil(groups / 2));
  for (let row = 0; row < rows; row += 1) {
    let count = 0;
    let sum = 0;
    for (let place = 0; place < groups; place += 1) {
      const column = order[place];
      if (column === undefined) continue;
      const voltage = column[row] ?? Number.NaN;
      if (!(voltage >= low && voltage <= high)) continue;
      sum += voltage;
      let at = count;
      while (at > 0 && (sorted[at - 1] ?? 0) > voltage) {
        sorted[at] = sorted[at - 1] ?? 0;
        at -= 1;
      }
      sorted[at] = voltage;
      count += 1;
    }
    plausibleGroups[row] = count;
    if (count === groups && groups > 0) sumV[row] = sum;
    if (count === 0) continue;
    lowestV[row] = sorted[0] ?? Number.NaN;
    highestV[row] = sorted[count - 1] ?? Number.NaN;
    if (count < needed) continue;
    const middle = count >> 1;
    const upper = sorted[middle] ?? Number.NaN;
    referenceV[row] = count % 2 === 1 ? upper : ((sorted[middle - 1] ?? upper) + upper) / 2;
    if (row % rowsBetweenReorders === 0) reorder(order, row);
  }
  return { referenceV, sumV, lowestV, highestV, plausibleGroups };
}

/** Ranks drift with charge and load only slowly; sorting the columns afresh now and then keeps the insertion sort short. */
const rowsBetweenReorders = 256;

function reorder(order: Float64Array[], row: number): void {
  order.sort((a, b) => (a[row] ?? 0) - (b[row] ?? 0) || 0);
}
