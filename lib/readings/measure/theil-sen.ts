import { median } from "@/lib/readings/measure/median";

/**
 * Median of the slopes through all pairs of points (Theil 1950, Sen 1968): a straight-line trend that up to 29 % of wild
 * points do not move. Unit: y per x. `null` for fewer than two different x. O(n²): thin long series first.
 */
export function theilSenSlope(x: ArrayLike<number>, y: ArrayLike<number>): number | null {
  const slopes: number[] = [];
  for (let i = 0; i < x.length; i += 1) {
    for (let j = i + 1; j < x.length; j += 1) {
      const run = (x[j] ?? Number.NaN) - (x[i] ?? Number.NaN);
      const slope = ((y[j] ?? Number.NaN) - (y[i] ?? Number.NaN)) / run;
      if (run !== 0 && Number.isFinite(slope)) slopes.push(slope);
    }
  }
  return median(slopes);
}
