import normal from "@stdlib/stats-base-dists-normal";

/**
 * How many standard errors each way hold a share `confidence` of a normal distribution: 1.959964 for 0.95.
 * Domain: 0 < confidence < 1, else a RangeError.
 */
export function twoSidedNormalQuantile(confidence: number): number {
  if (!(confidence > 0 && confidence < 1))
    throw new RangeError(`confidence must lie between 0 and 1, got ${confidence}`);
  return normal.quantile((1 + confidence) / 2, 0, 1);
}
