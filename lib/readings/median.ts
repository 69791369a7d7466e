import { orderStatistic } from "@/lib/readings/order-statistic";

/**
 * Median of the finite values; the mean of the middle two where their count is even. NaN where there is none (for internal use:
 * a caller must not show it). At most `limit` values, spread evenly over the column, are looked at.
 */
export function medianOf(values: ArrayLike<number>, limit = Number.POSITIVE_INFINITY): number {
  return quantileOf(values, 0.5, limit);
}

/** Quantile of the finite values by linear interpolation between order statistics (R type 7); NaN where there is none. */
export function quantileOf(values: ArrayLike<number>, share: number, limit = Number.POSITIVE_INFINITY): number {
  if (!(share >= 0 && share <= 1)) throw new RangeError(`A quantile lies between 0 and 1, not at ${share}`);
  const stride = Math.max(1, Math.ceil(values.length / limit));
  const finite = new Float64Array(Math.ceil(values.length / stride));
  const count = values instanceof Float64Array ? gather(values, stride, finite) : gatherAny(values, stride, finite);
  if (count === 0) return Number.NaN;
  const place = share * (count - 1);
  const lower = Math.floor(place);
  const below = orderStatistic(finite, count, lower);
  if (place === lower) return below;
  // Everything after `lower` is at least as large now, so the next order statistic is the smallest of it.
  let above = finite[lower + 1] ?? Number.NaN;
  for (let at = lower + 2; at < count; at += 1) above = Math.min(above, finite[at] ?? above);
  return below + (above - below) * (place - lower);
}

/** Copies every finite value of each stride; returns how many. Written out for doubles, in which whole columns come. */
function gather(values: Float64Array, stride: number, finite: Float64Array): number {
  let count = 0;
  for (let at = 0; at < values.length; at += stride) {
    const value = values[at] ?? Number.NaN;
    // Finite: neither infinite nor NaN, whose difference from itself is NaN.
    if (value - value === 0) finite[count++] = value;
  }
  return count;
}

function gatherAny(values: ArrayLike<number>, stride: number, finite: Float64Array): number {
  let count = 0;
  for (let at = 0; at < values.length; at += stride) {
    const value = values[at] ?? Number.NaN;
    if (Number.isFinite(value)) finite[count++] = value;
  }
  return count;
}
