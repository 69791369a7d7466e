import { medianOf, quantileOf } from "@/lib/readings/median";

/** Makes 1.4826 · MAD estimate the standard deviation of normal data: 1 / normal quantile(0.75). Closed form. */
const madToSigma = 1.482602218505602;

/** Middle of the finite values; `null` where there is none. */
export function median(values: ArrayLike<number>): number | null {
  return orNull(medianOf(values));
}

/** Median absolute deviation from the median, scaled to a standard deviation (MADN). `null` for no finite value. */
export function scaledMad(values: ArrayLike<number>): number | null {
  const middle = median(values);
  if (middle === null) return null;
  const distances = new Float64Array(values.length);
  for (let place = 0; place < distances.length; place += 1) {
    distances[place] = Math.abs((values[place] ?? Number.NaN) - middle);
  }
  const spread = median(distances);
  return spread === null ? null : madToSigma * spread;
}

/** Quantile of the finite values (R type 7) of at most `limit` spread evenly over the column; `null` where there is none. */
export function quantile(values: Float64Array, share: number, limit = 100_000): number | null {
  return orNull(quantileOf(values, share, limit));
}

function orNull(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
