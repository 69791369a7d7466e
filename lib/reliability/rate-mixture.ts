import { addFailureCount } from "@/lib/stats/binomial-mixture";
import { gammaQuantile } from "@/lib/stats/incomplete-gamma";
import type { PartWeibull } from "@/lib/stats/part-weibull";

/** The doubt about a rate is taken at so many of its quantiles, evenly spread. More of them move no limit in the tests. */
const QUANTILES = 100;

/** A shape with its weight, and how long units were watched if it is the true one: see `LentShape`. */
interface WeighedShape {
  readonly shape: number;
  readonly weight: number;
  readonly exposure: number;
}

/**
 * Distribution of the number of failures, from 0, where the rate is gamma with so many failures over the exposure at each shape: chance,
 * the doubt about the rate (by its quantiles) and that about the shape mixed.
 *
 * @param sumsAt the sums of the failure probabilities and of their squares for a law.
 */
export function mixedOverRates(
  { failures, largestAge, points }: { failures: number; largestAge: number; points: readonly WeighedShape[] },
  mostFailures: number,
  sumsAt: (values: PartWeibull) => { readonly sum: number; readonly sumOfSquares: number },
): Float64Array {
  const means = Array.from({ length: QUANTILES }, (_, i) => gammaQuantile(failures, (i + 0.5) / QUANTILES));
  const mixture = new Float64Array(mostFailures + 1);
  for (const { shape, exposure, weight } of points) {
    for (const mean of means) {
      const values = { shape, scale: scaleAt(largestAge, { shape, exposure }, mean), share: 1 };
      addFailureCount(mixture, { ...sumsAt(values), weight: weight / QUANTILES });
    }
  }
  return mixture;
}

/** At which so many failures are to be expected in the exposure. */
export function scaleAt(
  largestAge: number,
  { shape, exposure }: Pick<WeighedShape, "shape" | "exposure">,
  mean: number,
): number {
  return largestAge * (exposure / mean) ** (1 / shape);
}
