import { expect, test } from "vitest";
import { coverBasis } from "@/lib/reliability/cover-basis";
import { foretell } from "@/lib/reliability/cover-forecast";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { likelyShapes } from "@/lib/reliability/likely-shapes";
import { mixedOverRates } from "@/lib/reliability/rate-mixture";
import { knownAtOnce } from "@/lib/reliability/reporting-lag";
import { poissonLimits } from "@/lib/stats/poisson-limits";
import { weibullCovariance } from "@/lib/stats/weibull-covariance";
import { fitWeibull } from "@/lib/stats/weibull-fit";

const failedAt = [30, 80, 150, 210, 300, 420];
const END_DAYS = 500;
const counts = [
  ...failedAt.map((age) => ({ age, entered: 0, failed: 1, censored: 0 })),
  { age: END_DAYS, entered: 0, failed: 0, censored: 200 },
];

function shapesOfSix() {
  const fit = fitWeibull(counts);
  if (fit.kind === "refused") throw new Error(fit.reason);
  return likelyShapes(fit, weibullCovariance(fit).varianceLogSigma);
}

// R 4.2.2: the likelihood summed over ln shape at steps of 0.01, the rate integrated out by hand.
test("the shapes that six failures leave open have the mean that their likelihood has", () => {
  const { points } = shapesOfSix();
  expect(points.reduce((sum, { shape, weight }) => sum + weight * Math.log(shape), 0)).toBeCloseTo(-0.485693497, 6);
});

test("of a hundred packs that go on for a hundred days none fails as often as their likelihood says", () => {
  const packs = 1e6;
  const { points, failures } = shapesOfSix();
  const chances = mixedOverRates({ failures, largestAge: END_DAYS, points }, 400, ({ shape, scale }) => {
    // Poisson, as the integral has it: a million packs, each with a ten-thousandth of what is to be expected of one.
    const chance = (100 * ((600 / scale) ** shape - (END_DAYS / scale) ** shape)) / packs;
    return { sum: packs * chance, sumOfSquares: packs * chance * chance };
  });
  expect(chances[0]).toBeCloseTo(0.693072315, 3);
});

test("six failures bound what is to come about as closely as a count of six does", () => {
  const cell = (exitDays: number, status: LifeCell["status"], packs: number): LifeCell => {
    const kept = { line: "confirmed", group: "A", stratum: "M", dispatched: true, entryDays: 0, detail: null } as const;
    return { ...kept, exitDays, status, slackDays: 92, packs };
  };
  const cells = [...failedAt.map((age) => cell(age, "failed", 1)), cell(END_DAYS, "running", 200)];
  for (let age = 10; age < END_DAYS; age += 10) cells.push(cell(age, "running", 12));
  const running = cells
    .filter(({ status, exitDays }) => status === "running" && exitDays < END_DAYS)
    .map(({ exitDays, packs }) => ({ ageDays: exitDays, coverLeftDays: 730 - exitDays, packs }));
  const ahead = foretell(coverBasis(cells, running, knownAtOnce, 0), 91);
  if (ahead.kind !== "forecast") throw new Error(ahead.reason);
  // The upper limit of the rate of six, and chance upon it: by the large-sample normal distribution it was four times as far off.
  const most = poissonLimits(6, 0.95).upper / 6;
  expect(ahead.upper).toBeLessThan(poissonLimits(Math.ceil(most * ahead.expected), 0.95).upper);
  expect(ahead.upper).toBeGreaterThan(poissonLimits(Math.floor(ahead.expected), 0.8).upper);
});
