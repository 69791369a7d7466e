import { inverse } from "./newton-maximum";

export interface LeastSquares {
  readonly coefficients: readonly number[];
  /** Standard errors that allow for scatter that differs from row to row. */
  readonly errors: readonly number[];
  /** Response less what the predictors explain, row by row. */
  readonly residuals: Float64Array;
}

/**
 * Weighted linear least squares by the normal equations, with the errors of White (1980, doi:10.2307/1912934; HC0).
 *
 * `predictors` are columns of the length of `response`; weights are not negative. `null` where the columns do not
 * determine the coefficients. Columns should be of like size: nothing is scaled. O(rows · columns²).
 */
export function weightedLeastSquares(
  predictors: readonly Float64Array[],
  response: Float64Array,
  weights: Float64Array,
): LeastSquares | null {
  const normal = predictors.map((one) => predictors.map((other) => weightedSum(one, other, weights)));
  const spread = inverse(normal);
  if (spread === null) return null;
  const moments = predictors.map((one) => weightedSum(one, response, weights));
  const coefficients = spread.map((row) => row.reduce((sum, one, at) => sum + one * (moments[at] ?? 0), 0));
  const residuals = response.map((value, row) =>
    predictors.reduce((left, column, at) => left - (coefficients[at] ?? 0) * (column[row] ?? 0), value),
  );
  const errors = spread.map((of) => {
    let variance = 0;
    for (const [row, left] of residuals.entries()) {
      const pull = predictors.reduce((sum, column, at) => sum + (of[at] ?? 0) * (column[row] ?? 0), 0);
      variance += ((weights[row] ?? 0) * pull * left) ** 2;
    }
    return Math.sqrt(variance);
  });
  return { coefficients, errors, residuals };
}

function weightedSum(one: Float64Array, other: Float64Array, weights: Float64Array): number {
  let sum = 0;
  // By index: these are whole columns, and an iterator takes several times as long.
  for (let row = 0; row < one.length; row += 1) sum += (weights[row] ?? 0) * (one[row] ?? 0) * (other[row] ?? 0);
  return sum;
}
