import { expect, test } from "vitest";
import { coverageStatements } from "@/lib/stats/coverage-statement";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { LifeTally } from "@/lib/stats/life-tally";
import { poissonDensity } from "@/lib/stats/poisson-density";
import { poissonLimits, poissonMidPLimits } from "@/lib/stats/poisson-limits";
import { survivalAtAge } from "@/lib/stats/survival-at-age";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { weibullLife, weibullLimits } from "@/lib/stats/weibull-limits";
import { seededRandom } from "@/tests/support/seeded-random";

/** Probability that limits of a Poisson count hold its mean: an exact sum, no simulation. */
function poissonCoverage(mean: number, limits: typeof poissonLimits): number {
  let covered = 0;
  for (let count = 0; count <= mean + 12 * Math.sqrt(mean) + 30; count++) {
    const { lower, upper } = limits(count);
    if (lower <= mean && mean <= upper) covered += poissonDensity(count, mean);
  }
  return covered;
}

const means = Array.from({ length: 60 }, (_, i) => 0.2 * 1.1 ** i);

test("exact limits of a count hold every mean at least 95 times in 100", () => {
  for (const mean of means) expect(poissonCoverage(mean, poissonLimits), `mean ${mean}`).toBeGreaterThanOrEqual(0.95);
});

test("mid-p limits hold means 95 times in 100 on average, and some of them less often", () => {
  const larger = means.filter((mean) => mean > 2);
  const coverages = larger.map((mean) => poissonCoverage(mean, poissonMidPLimits));
  expect(Math.abs(coverages.reduce((a, b) => a + b) / coverages.length - 0.95)).toBeLessThan(0.015);
  expect(Math.min(...coverages)).toBeLessThan(0.95);
  expect(Math.min(...coverages)).toBeGreaterThan(0.92);
});

const SHAPE = 2;
const B10 = (-Math.log(0.9)) ** (1 / SHAPE);

/** Shares of made-up fleets (Weibull of scale 1, cut off at `end`) in which each kind of limits holds the truth. */
function weibullCoverage(units: number, end: number, fleets: number, seed: number) {
  const uniform = seededRandom(seed);
  const held = { shape: 0, life: 0, wald: 0, fits: 0 };
  for (let fleet = 0; fleet < fleets; fleet++) {
    const tally = new LifeTally();
    for (let unit = 0; unit < units; unit++) {
      const life = (-Math.log(1 - uniform())) ** (1 / SHAPE);
      tally.add(0, Math.min(life, end), life <= end);
    }
    const fit = fitWeibull(tally.counts());
    if (fit.kind !== "fit") continue;
    const [limits, life] = [weibullLimits(fit), weibullLife(fit, 0.1)];
    if (limits === null || life === null) continue;
    held.fits += 1;
    if (limits.shape.lower <= SHAPE && SHAPE <= limits.shape.upper) held.shape += 1;
    if (life.lower <= B10 && B10 <= life.upper) held.life += 1;
    if (life.wald.lower <= B10 && B10 <= life.wald.upper) held.wald += 1;
  }
  return { shape: held.shape / held.fits, life: held.life / held.fits, wald: held.wald / held.fits };
}

test("with 24 failures likelihood-ratio limits of shape and B10 life hold 93.5 to 96.5 times in 100", () => {
  const { shape, life } = weibullCoverage(50, 0.8, 1000, 1);
  for (const share of [shape, life]) {
    expect(share).toBeGreaterThan(0.935);
    expect(share).toBeLessThan(0.965);
  }
});

test("with five failures they still do, and limits of plus and minus standard errors do not", () => {
  const { life, wald } = weibullCoverage(100, 0.23, 1000, 2);
  expect(life).toBeGreaterThan(0.935);
  expect(life).toBeLessThan(0.965);
  expect(wald).toBeLessThan(0.91);
});

test("with one or two failures Kaplan-Meier limits are too wide, not too narrow", () => {
  const uniform = seededRandom(2);
  let held = 0;
  const fleets = 2000;
  for (let fleet = 0; fleet < fleets; fleet++) {
    const tally = new LifeTally();
    for (let unit = 0; unit < 100; unit++) {
      const life = Math.log(1 - uniform()) / Math.log(0.98);
      const lastSeen = 0.3 + 1.7 * uniform();
      tally.add(0, Math.min(life, lastSeen), life <= lastSeen);
    }
    const estimate = survivalAtAge(kaplanMeier(tally.counts()), 1);
    if (estimate.kind === "estimate" && estimate.lower <= 0.98 && 0.98 <= estimate.upper) held += 1;
  }
  expect(held / fleets).toBeGreaterThan(0.955);
});

test("what is said of each kind of limits is a pair of sentences", () => {
  for (const { where, elsewhere } of coverageStatements) {
    expect(where.endsWith(".")).toBe(true);
    expect(elsewhere.endsWith(".")).toBe(true);
  }
});
