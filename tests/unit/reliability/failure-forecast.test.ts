import { expect, test } from "vitest";
import { countDistribution } from "@/lib/reliability/count-distribution";
import type { RunningCell } from "@/lib/reliability/cover-basis";
import { foretell } from "@/lib/reliability/cover-forecast";
import { type FailureLaw, failureLaw, plainLaw } from "@/lib/reliability/failure-law";
import { addFailureCount, countQuantile } from "@/lib/stats/binomial-mixture";
import { chanceOfFailing, hazardOfStep } from "@/lib/stats/part-weibull";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { countLives, type Life } from "@/tests/support/lives";

const many: Life[] = Array.from({ length: 2000 }, (_, i) => {
  const age = Math.round(1000 * (-Math.log(1 - (i + 0.5) / 2000)) ** (1 / 1.5));
  return age < 400 ? [0, Math.max(1, age), 1] : [0, 400, 0];
});

/** Of 2,000 units 60 can fail, by a Weibull law of shape 2 and scale 100; all watched to 400: the curve has long flattened. */
const aPart: Life[] = [
  ...Array.from({ length: 60 }, (_, i): Life => {
    return [0, Math.max(1, Math.round(100 * (-Math.log(1 - (i + 0.5) / 60)) ** 0.5)), 1];
  }),
  ...Array.from({ length: 1940 }, (): Life => [0, 400, 0]),
];

function lawOf(lives: readonly Life[]): FailureLaw {
  const law = failureLaw(countLives([...lives]));
  if ("refused" in law) throw new Error("a law is expected");
  return law;
}

const running = (ageDays: number, packs: number): RunningCell => ({ ageDays, coverLeftDays: null, packs });

function told(lives: readonly Life[], cells: readonly RunningCell[], horizon: number, carriedOn = 0) {
  return foretell({ failures: 5, law: lawOf(lives), running: cells, hidden: [] }, horizon, carriedOn);
}

test("where only a part can fail the forecast is that part's, far below what one law for all would foretell", () => {
  const law = lawOf(aPart);
  expect(law.part?.share).toBeCloseTo(0.03, 3);
  const forecast = told(aPart, [running(50, 1000)], 50);
  if (forecast.kind !== "forecast") throw new Error("a forecast is expected");
  // By hand: of 1,000 units running at 50 so many fail by 100 as p [S(50) - S(100)] / [1 - p + p S(50)], S of the part.
  const survival = (age: number) => Math.exp(-((age / 100) ** 2));
  const truth = (1000 * 0.03 * (survival(50) - survival(100))) / (0.97 + 0.03 * survival(50));
  expect(Math.abs(forecast.expected / truth - 1)).toBeLessThan(0.02);
  expect([forecast.lower, forecast.upper].map((limit) => limit - truth).map(Math.sign)).toEqual([-1, 1]);
  const old = told(aPart, [running(350, 1000)], 50);
  const fit = fitWeibull(countLives(aPart));
  if (old.kind !== "forecast" || fit.kind !== "fit") throw new Error("a forecast is expected");
  const forAll = foretell({ failures: 5, law: plainLaw(fit), running: [running(350, 1000)], hidden: [] }, 50);
  if (forAll.kind !== "forecast") throw new Error("a forecast is expected");
  expect(old.expected).toBeLessThan(0.01);
  expect(forAll.expected).toBeGreaterThan(1);
});

test("a share of one is the plain law, and a unit that outlived the part that fails is not at risk", () => {
  expect(chanceOfFailing(1, 0.2, 0.5)).toBeCloseTo(1 - Math.exp(-0.3), 14);
  expect(hazardOfStep(1, 0.2, 0.5)).toBeCloseTo(0.3, 14);
  expect(chanceOfFailing(1, 900, 901)).toBeCloseTo(1 - Math.exp(-1), 12);
  expect(chanceOfFailing(0.3, 900, 901)).toBe(0);
  // p [S(a) - S(b)] / [1 - p + p S(a)] with p = 0.3, cumulative hazards 0.2 and 0.5.
  const [a, b] = [Math.exp(-0.2), Math.exp(-0.5)];
  expect(chanceOfFailing(0.3, 0.2, 0.5)).toBeCloseTo((0.3 * (a - b)) / (0.7 + 0.3 * a), 14);
});

test("a law whose doubt has no meaning gives no limits", () => {
  const law = { ...lawOf(many), likely: null, doubt: { varianceMu: 1, varianceLogSigma: 1, covariance: 1 } };
  expect(countDistribution(law, 10, () => ({ sum: 1, sumOfSquares: 0.1 }))).toBeNull();
});

test("ages no unit has reached are left out and told as time, unless hardly anything lies there", () => {
  const cells = [running(100, 1000), running(380, 10)];
  const cut = told(many, cells, 50);
  const carriedOn = told(many, cells, 50, 0.05);
  if (cut.kind !== "forecast" || carriedOn.kind !== "forecast") throw new Error("forecasts are expected");
  expect(cut.beyond.packs).toBe(10);
  expect(cut.beyond.packMonths * 30.4375).toBeCloseTo(300, 1);
  expect(cut.beyondObserved).toBeGreaterThan(0);
  expect(cut.beyondObserved).toBeLessThan(0.05);
  expect(cut.expected).toBeCloseTo(carriedOn.expected * (1 - cut.beyondObserved), 10);
  expect(told(many, [running(400, 10)], 50)).toEqual({ kind: "refused", reason: "mostly-beyond-observed-ages" });
});

test("a horizon beyond all ages seen is refused", () => {
  expect(told(many, [running(1, 1)], 401)).toEqual({ kind: "refused", reason: "horizon-beyond-observed-ages" });
});

test("putting many ages in classes hardly moves the forecast", () => {
  const cells = Array.from({ length: 59 }, (_, i) => running(6 * i + 3, 4));
  const finer = cells.flatMap(({ ageDays }) => [running(ageDays - 2.5, 2), running(ageDays + 2.5, 2)]);
  const [one, other] = [cells, finer].map((units) => told(many, units, 50));
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
