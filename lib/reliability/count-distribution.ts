import { addFailureCount } from "@/lib/stats/binomial-mixture";
import { normalGrid } from "@/lib/stats/normal-grid";
import type { PartWeibull } from "@/lib/stats/part-weibull";
import type { FailureLaw } from "./failure-law";
import { lentCounts } from "./lent-law";
import { mixedOverRates } from "./rate-mixture";

/**
 * Steps, in standard deviations, of the grid over the doubt about the fit: fine in the direction in which the expected
 * number changes most, since there the limits are read off, coarse across it; coarser still where there are two across, which
 * still integrates a smooth function against a normal density to nine digits (trapezoidal rule).
 */
const FINE_STEP = 0.125;
const COARSE_STEP = 0.5;
const COARSE_STEP_OF_TWO = 1;

/**
 * Distribution of the number of failures, chance and doubt about the law together: entry k is the probability of k. The count's
 * distribution is averaged over what its failures leave open of shape and scale (`likelyShapes`); where only a part can fail, over the
 * large-sample normal distribution of ln scale, ln shape and the logit of the share; of a law whose shape is lent over its own doubt.
 * With few failures it is wide, and ought to be.
 *
 * `sumsAt` gives the sums of the failure probabilities and of their squares for a law. Null without a usable covariance.
 * Source: Meeker & Escobar, Statistical Methods for Reliability Data (1998), sections 12.5 to 12.7.
 */
export function countDistribution(
  law: FailureLaw,
  mostFailures: number,
  sumsAt: (values: PartWeibull) => { readonly sum: number; readonly sumOfSquares: number },
): Float64Array | null {
  if (law.lent) return lentCounts({ lent: law.lent, largestAge: law.largestAge }, mostFailures, sumsAt);
  if (law.likely) return mixedOverRates({ ...law.likely, largestAge: law.largestAge }, mostFailures, sumsAt);
  const spread = parameterSpread(law);
  if (spread === null) return null;
  const { dimensions, at } = spread;
  const axes = orthonormalFrom(steepestDirection(dimensions, (z) => Math.log(sumsAt(at(z)).sum)));
  const mixture = new Float64Array(mostFailures + 1);
  const across = normalGrid(dimensions > 2 ? COARSE_STEP_OF_TWO : COARSE_STEP);
  for (const fine of normalGrid(FINE_STEP)) {
    for (const second of across) {
      for (const third of dimensions > 2 ? across : [{ z: 0, weight: 1 }]) {
        const steps = [fine.z, second.z, third.z];
        const z = Array.from({ length: dimensions }, (_, i) =>
          axes.reduce((sum, axis, a) => sum + (axis[i] ?? 0) * (steps[a] ?? 0), 0),
        );
        addFailureCount(mixture, { ...sumsAt(at(z)), weight: fine.weight * second.weight * third.weight });
      }
    }
  }
  return mixture;
}

/** The fitted values themselves. */
export function valuesOf({ shape, scale, part }: FailureLaw): PartWeibull {
  return { shape, scale, share: part?.share ?? 1 };
}

interface Spread {
  readonly dimensions: number;
  readonly at: (z: readonly number[]) => PartWeibull;
}

/** Values of a law at a point of independent standard normal variables; null without a usable covariance. */
function parameterSpread({ shape, scale, doubt, part }: FailureLaw): Spread | null {
  if (part === undefined || part === null) {
    const { varianceMu, varianceLogSigma, covariance } = doubt;
    const root = choleskyRoot([
      [varianceMu, covariance],
      [covariance, varianceLogSigma],
    ]);
    if (root === null) return null;
    return {
      dimensions: 2,
      at: (z) => ({
        share: 1,
        scale: scale * Math.exp(shift(root[0], z)),
        shape: shape * Math.exp(-shift(root[1], z)),
      }),
    };
  }
  const root = choleskyRoot(part.doubt);
  if (root === null) return null;
  const logit = Math.log(part.share / (1 - part.share));
  return {
    dimensions: 3,
    at: (z) => ({
      share: 1 / (1 + Math.exp(-logit - shift(root[0], z))),
      scale: scale * Math.exp(shift(root[1], z)),
      shape: shape * Math.exp(-shift(root[2], z)),
    }),
  };
}

function shift(row: readonly number[] | undefined, z: readonly number[]): number {
  return (row ?? []).reduce((sum, c, j) => sum + c * (z[j] ?? 0), 0);
}

/** Lower triangular L with L L' the matrix; null where the matrix is not positive definite. */
function choleskyRoot(matrix: readonly (readonly number[])[]): number[][] | null {
  const root: number[][] = [];
  for (const [i, row] of matrix.entries()) {
    const line: number[] = [];
    for (let j = 0; j <= i; j++) {
      const above = root[j] ?? line;
      const rest = (row[j] ?? 0) - line.reduce((sum, c, k) => (k < j ? sum + c * (above[k] ?? 0) : sum), 0);
      if (i === j && !(rest > 0 && Number.isFinite(rest))) return null;
      line.push(i === j ? Math.sqrt(rest) : rest / (above[j] ?? 0));
    }
    root.push(line);
  }
  return root;
}

/** Unit vector along which a function changes most around 0. */
function steepestDirection(dimensions: number, f: (z: readonly number[]) => number): number[] {
  const unit = (i: number, size: number) => Array.from({ length: dimensions }, (_, j) => (i === j ? size : 0));
  const changes = Array.from({ length: dimensions }, (_, i) => f(unit(i, 0.5)) - f(unit(i, -0.5)));
  const length = Math.hypot(...changes);
  return length > 0 && Number.isFinite(length) ? changes.map((c) => c / length) : unit(0, 1);
}

/** A right-angled set of unit vectors that starts with the one given (Gram and Schmidt, the longest remainder first). */
function orthonormalFrom(first: readonly number[]): (readonly number[])[] {
  const axes = [first];
  while (axes.length < first.length) {
    const remainders = first.map((_, i) => {
      const unit = first.map((_, j) => (i === j ? 1 : 0));
      return axes.reduce<number[]>((rest, axis) => {
        const along = rest.reduce((sum, c, j) => sum + c * (axis[j] ?? 0), 0);
        return rest.map((c, j) => c - along * (axis[j] ?? 0));
      }, unit);
    });
    const lengths = remainders.map((one) => Math.hypot(...one));
    const longest = lengths.indexOf(Math.max(...lengths));
    axes.push((remainders[longest] ?? []).map((c) => c / (lengths[longest] ?? 1)));
  }
  return axes;
}
