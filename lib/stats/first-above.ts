/** Position of the first of rising numbers that is above the bound; their number where none is. */
export function firstAbove(rising: ArrayLike<number>, bound: number): number {
  let [low, high] = [0, rising.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((rising[middle] ?? 0) > bound) high = middle;
    else low = middle + 1;
  }
  return low;
}
