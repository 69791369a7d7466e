import { expect, test } from "vitest";
import { weightedLeastSquares } from "@/lib/stats/weighted-least-squares";

// numpy 2.4.6: A = inv(X'WX), b = A X'Wy, errors = sqrt(diag(A X'diag((w e)^2)X A)); the estimator is of White 1980, doi:10.2307/1912934 (HC0).
const x = Float64Array.of(1, 2, 3, 4, 6, 9);
const y = Float64Array.of(2.1, 3.9, 6.2, 7.7, 12.5, 17.4);
const weights = Float64Array.of(1, 2, 1, 0.5, 1, 0.25);

test("weighted least squares and its errors for unequal scatter agree with numpy", () => {
  const fit = weightedLeastSquares([new Float64Array(6).fill(1), x], y, weights);
  expect(fit?.coefficients[0]).toBeCloseTo(0.000268096515, 10);
  expect(fit?.coefficients[1]).toBeCloseTo(2.01635389, 8);
  expect(fit?.errors[0]).toBeCloseTo(0.1678324, 7);
  expect(fit?.errors[1]).toBeCloseTo(0.06663114, 8);
  expect(fit?.residuals[0]).toBeCloseTo(2.1 - 0.000268096515 - 2.01635389, 7);
});

test("columns that do not determine the coefficients are refused", () => {
  expect(weightedLeastSquares([x, x], y, weights)).toBeNull();
  expect(weightedLeastSquares([x], y, new Float64Array(6))).toBeNull();
});
