/**
 * The value that would stand at `place` (from 0) if the first `count` values were sorted; the values are reordered so that
 * nothing before the place is larger and nothing after it smaller.
 *
 * Selection by partition with the median of three as pivot (C. A. R. Hoare, "Algorithm 65: FIND", CACM 4, 1961): the robust
 * fits of the diagnosis take medians of whole columns again and again, and a sort of 2,500 values costs four times as much.
 */
export function orderStatistic(values: Float64Array, count: number, place: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const pivot = medianOfThree(at(values, low), at(values, (low + high) >> 1), at(values, high));
    let left = low;
    let right = high;
    while (left <= right) {
      while (at(values, left) < pivot) left += 1;
      while (at(values, right) > pivot) right -= 1;
      if (left <= right) {
        const moved = at(values, left);
        values[left] = at(values, right);
        values[right] = moved;
        left += 1;
        right -= 1;
      }
    }
    if (place <= right) high = right;
    else if (place >= left) low = left;
    else break;
  }
  return at(values, place);
}

function at(values: Float64Array, index: number): number {
  return values[index] ?? Number.NaN;
}

function medianOfThree(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}
