/** Makes 1.4826 · MAD estimate the standard deviation of normal data: 1 / normal quantile(0.75). Closed form. */
export const madToSigma = 1.482602218505602;

/**
 * Middle value of the finite entries; the mean of the two middle ones for an even count. `null` where none is finite.
 * Sorts a copy: the input is left alone.
 */
export function median(values: ArrayLike<number>): number | null {
  const sorted = finiteSorted(values);
  return sorted.length === 0 ? null : quantileOfSorted(sorted, 0.5);
}

/** Median absolute deviation from the median, scaled to a standard deviation (MADN). `null` for no finite entry. */
export function scaledMad(values: ArrayLike<number>): number | null {
  const middle = median(values);
  if (middle === null) return null;
  const spread = median(Float64Array.from(values, (value) => Math.abs(value - middle)));
  return spread === null ? null : madToSigma * spread;
}

/** Quantile of the finite entries by linear interpolation between order statistics (R type 7). `null` for none. */
export function quantile(values: ArrayLike<number>, probability: number): number | null {
  const sorted = finiteSorted(values);
  return sorted.length === 0 ? null : quantileOfSorted(sorted, probability);
}

function finiteSorted(values: ArrayLike<number>): Float64Array {
  return Float64Array.from(values).filter(Number.isFinite).sort();
}

function quantileOfSorted(sorted: Float64Array, probability: number): number {
  const position = probability * (sorted.length - 1);
  const below = Math.floor(position);
  const low = sorted[below] ?? Number.NaN;
  const high = sorted[Math.min(below + 1, sorted.length - 1)] ?? low;
  return low + (position - below) * (high - low);
}
