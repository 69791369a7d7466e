import { expect, test } from "vitest";
import { forecastFailures } from "@/lib/reliability/failure-forecast";
import { addFailureCount, countQuantile } from "@/lib/stats/binomial-mixture";
import { fitWeibull, type WeibullFit } from "@/lib/stats/weibull-fit";
import { countLives, type Life } from "@/tests/support/lives";

function fitOf(lives: Life[]): WeibullFit {
  const fit = fitWeibull(countLives(lives));
  if (fit.kind !== "fit") throw new Error("a fit is expected");
  return fit;
}

const many: Life[] = Array.from({ length: 2000 }, (_, i) => {
  const age = Math.round(1000 * (-Math.log(1 - (i + 0.5) / 2000)) ** (1 / 1.5));
  return age < 400 ? [0, Math.max(1, age), 1] : [0, 400, 0];
});

test("the forecast brackets its expectation, and more confidence widens it", () => {
  const running = [{ age: 400, units: 1500 }];
  const [usual, wide] = [0.95, 0.99].map((confidence) => forecastFailures(fitOf(many), running, 100, confidence));
  if (usual?.kind !== "forecast" || wide?.kind !== "forecast") throw new Error("forecasts are expected");
  expect(usual.lower).toBeLessThan(usual.expected);
  expect(usual.upper).toBeGreaterThan(usual.expected);
  expect(wide.lower).toBeLessThan(usual.lower);
  expect(wide.upper).toBeGreaterThan(usual.upper);
});

test("failures expected at ages never seen are said to be so", () => {
  expect(forecastFailures(fitOf(many), [{ age: 400, units: 10 }], 50)).toMatchObject({ beyondObserved: 1 });
  expect(forecastFailures(fitOf(many), [{ age: 100, units: 10 }], 50)).toMatchObject({ beyondObserved: 0 });
});

test("no running units and a horizon beyond all ages seen are refused", () => {
  expect(forecastFailures(fitOf(many), [], 50)).toEqual({ kind: "refused", reason: "nothing-running" });
  expect(forecastFailures(fitOf(many), [{ age: 1, units: 1 }], 401)).toEqual({
    kind: "refused",
    reason: "horizon-beyond-observed-ages",
  });
  expect(() => forecastFailures(fitOf(many), [{ age: 1, units: 1 }], 0)).toThrow(RangeError);
});

test("putting many ages in classes hardly moves the forecast", () => {
  const running = Array.from({ length: 399 }, (_, i) => ({ age: i + 1, units: 4 }));
  const finer = running.flatMap(({ age }) => [
    { age: age - 0.25, units: 2 },
    { age: age + 0.25, units: 2 },
  ]);
  const [one, other] = [running, finer].map((units) => forecastFailures(fitOf(many), units, 50));
  if (one?.kind !== "forecast" || other?.kind !== "forecast") throw new Error("forecasts are expected");
  expect(Math.abs(other.lower - one.lower)).toBeLessThanOrEqual(1);
  expect(Math.abs(other.upper - one.upper)).toBeLessThanOrEqual(1);
});

test("equal probabilities give the binomial distribution exactly", () => {
  // scipy 1.17.1, scipy.stats.binom.cdf(3, 20, 0.1) = 0.8670466765656649, binom.ppf(0.975, 20, 0.1) = 5.
  const mixture = new Float64Array(21);
  addFailureCount(mixture, { sum: 2, sumOfSquares: 0.2, weight: 1 });
  expect(mixture.slice(0, 4).reduce((a, b) => a + b, 0)).toBeCloseTo(0.8670466765656649, 12);
  expect(countQuantile(mixture, 0.975)).toBe(5);
});

/** Distribution of the number of failures by convolution, one unit after the other. */
function convolved(probabilities: readonly number[]): number[] {
  let shares = [1];
  for (const p of probabilities) {
    shares = [...shares, 0].map((share, count) => share * (1 - p) + (shares[count - 1] ?? 0) * p);
  }
  return shares;
}

test.each([
  [300, 0.01, 0.5, 5e-4],
  [10, 0.05, 0.95, 0.022],
])("%i units with p from %f to %f are off from exact convolution by no more than %f", (units, from, to, most) => {
  const probabilities = Array.from({ length: units }, (_, i) => from + ((to - from) * i) / (units - 1));
  const mixture = new Float64Array(units + 1);
  const sum = probabilities.reduce((total, p) => total + p, 0);
  addFailureCount(mixture, { sum, sumOfSquares: probabilities.reduce((total, p) => total + p * p, 0), weight: 1 });
  let [exact, approximate, furthest] = [0, 0, 0];
  for (const [count, share] of convolved(probabilities).entries()) {
    exact += share;
    approximate += mixture[count] ?? 0;
    furthest = Math.max(furthest, Math.abs(exact - approximate));
  }
  expect(furthest).toBeLessThanOrEqual(most);
  expect(furthest).toBeGreaterThan(most / 10);
});

test("certain and impossible failures are counts without spread", () => {
  const mixture = new Float64Array(11);
  addFailureCount(mixture, { sum: 10, sumOfSquares: 10, weight: 0.5 });
  addFailureCount(mixture, { sum: 0, sumOfSquares: 0, weight: 0.5 });
  expect([mixture[0], mixture[10]]).toEqual([0.5, 0.5]);
});
