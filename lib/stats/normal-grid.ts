import normal from "@stdlib/stats-base-dists-normal";

/** Beyond 4.5 standard deviations lie 7 in a million: less than the limits can show. */
const REACH = 4.5;

/** Points `step` apart and weights (sum 1) that stand for a standard normal variable in an integral. */
export function normalGrid(step: number): { readonly z: number; readonly weight: number }[] {
  const half = Math.round(REACH / step);
  const points = Array.from({ length: 2 * half + 1 }, (_, i) => (i - half) * step).map((z) => ({
    z,
    weight: normal.pdf(z, 0, 1),
  }));
  const total = points.reduce((sum, { weight }) => sum + weight, 0);
  return points.map(({ z, weight }) => ({ z, weight: weight / total }));
}
