/** Lowest and highest of the values that are numbers; infinite the other way round (lowest above highest) where none is. */
export function rangeOf(values: Float64Array): { readonly lowest: number; readonly highest: number } {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  // By index: this runs over whole columns, and an iterator takes several times as long.
  for (let row = 0; row < values.length; row += 1) {
    const value = values[row] ?? Number.NaN;
    if (value < lowest) lowest = value;
    if (value > highest) highest = value;
  }
  return { lowest, highest };
}
