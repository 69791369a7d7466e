import { type Both, inTurn } from "@/lib/readings/both";
import { sharedFloats } from "@/lib/readings/shared-columns";

export interface PlausibleRows {
  /** Median of the plausible groups, V; NaN where fewer than half of them are plausible. */
  readonly referenceV: Float64Array;
  /** Sum of the groups, V; NaN unless all are plausible. */
  readonly sumV: Float64Array;
  readonly lowestV: Float64Array;
  readonly highestV: Float64Array;
  readonly plausibleGroups: Uint16Array;
}

/**
 * Stage 3, what is a value at all: a voltage no cell can have (a sentinel, a frame cut off, an open input) stays in the log and counts
 * for nothing here. Median, sum, extremes and number of the plausible group voltages of every row, in two halves.
 *
 * The median is the reference every group is compared with: unlike the mean it does not follow one sick group.
 */
export function readPlausibleRows(
  cells: readonly Float64Array[],
  rows: number,
  plausibleV: readonly [number, number],
  both: Both = inTurn,
): PlausibleRows {
  // One thread makes the room, and each fills its own half of it.
  const [found] = both(
    () => roomFor(rows),
    () => null,
  );
  const half = rowsBetweenReorders * Math.floor(rows / 2 / rowsBetweenReorders);
  both(
    () => readRows(cells, found, 0, half, plausibleV),
    () => readRows(cells, found, half, rows, plausibleV),
  );
  return found;
}

function roomFor(rows: number): PlausibleRows {
  return {
    referenceV: sharedFloats(rows),
    sumV: sharedFloats(rows),
    lowestV: sharedFloats(rows),
    highestV: sharedFloats(rows),
    plausibleGroups: new Uint16Array(new SharedArrayBuffer(2 * rows)),
  };
}

/** Ranks hardly change from row to row, so an insertion sort that starts from the last row's order is close to linear. */
function readRows(
  cells: readonly Float64Array[],
  { referenceV, sumV, lowestV, highestV, plausibleGroups }: PlausibleRows,
  fromRow: number,
  toRow: number,
  [low, high]: readonly [number, number],
): null {
  const groups = cells.length;
  const sorted = new Float64Array(groups);
  const needed = Math.max(1, Math.ceil(groups / 2));
  const order = orderBefore(cells, fromRow, needed, [low, high]);
  for (const column of [referenceV, sumV, lowestV, highestV]) column.fill(Number.NaN, fromRow, toRow);
  for (let row = fromRow; row < toRow; row += 1) {
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
  return null;
}

/** Ranks drift with charge and load only slowly; sorting the columns afresh now and then keeps the insertion sort short. */
const rowsBetweenReorders = 256;

function reorder(order: Float64Array[], row: number): void {
  order.sort((a, b) => (a[row] ?? 0) - (b[row] ?? 0) || 0);
}

/** The order the rows up to here leave: a sum goes by it, and must not depend, by its last bit, on where the rows were cut. */
function orderBefore(
  cells: readonly Float64Array[],
  fromRow: number,
  needed: number,
  [low, high]: readonly [number, number],
): Float64Array[] {
  const order = cells.slice();
  for (let row = 0; row < fromRow; row += rowsBetweenReorders) {
    const plausible = cells.filter((column) => {
      const voltage = column[row] ?? Number.NaN;
      return voltage >= low && voltage <= high;
    });
    if (plausible.length >= needed) reorder(order, row);
  }
  return order;
}
