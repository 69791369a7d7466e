/**
 * Least-squares slope of a line through the origin, over the pairs of which both numbers are finite: sum(x y) / sum(x x), in
 * units of y per unit of x. 0 where no pair has an x other than 0.
 */
export function slopeThroughOrigin(x: Float64Array, y: Float64Array): number {
  let products = 0;
  let squares = 0;
  for (let place = 0; place < x.length; place += 1) {
    const across = x[place] ?? Number.NaN;
    const up = y[place] ?? Number.NaN;
    if (!Number.isFinite(across + up)) continue;
    products += across * up;
    squares += across * across;
  }
  return squares > 0 ? products / squares : 0;
}
