import { expect, test } from "vitest";
import { fitDefectiveFraction } from "@/lib/stats/defective-fraction";
import { defectiveFractionLimits } from "@/lib/stats/defective-fraction-limits";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { countLives, type Life } from "@/tests/support/lives";
import { seededRandom } from "@/tests/support/seeded-random";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Integrated circuits, hours to failure of 28 of 4156, test ended at 1370 h: Meeker, Technometrics 29 (1987) 51-65.
const failureHours = [
  0.1, 0.1, 0.15, 0.6, 0.8, 0.8, 1.2, 2.5, 3, 4, 4, 6, 10, 10, 12.5, 20, 20, 43, 43, 48, 48, 54, 74, 84, 94, 168, 263,
  593,
];
const circuits: Life[] = [
  ...failureHours.map((hour): Life => [0, hour, 1]),
  ...Array.from({ length: 4156 - 28 }, (): Life => [0, 1370, 0]),
];

test("integrated circuits give Meeker's share of defective units and a clear preference for it", () => {
  // Meeker prints p 0.00674 and a shape of about 0.5 (from memory); more digits by R 4.2.2, optim with BFGS to 1e-16.
  const fit = fitDefectiveFraction(countLives(circuits));
  if (fit.kind !== "fit") throw new Error("a fit is expected");
  expectWithinRelative(fit.share, 0.00674445, 1e-6, "share");
  // The limits of the reference are by standard errors of the logit: the covariance, which the forecast draws from, gives them.
  const [logit, reach] = [Math.log(fit.share / (1 - fit.share)), 1.959963985 * Math.sqrt(fit.covariance[0]?.[0] ?? 0)];
  expectWithinRelative(1 / (1 + Math.exp(reach - logit)), 0.00466056, 2e-6, "lower");
  expectWithinRelative(1 / (1 + Math.exp(-reach - logit)), 0.009751, 2e-6, "upper");
  // The optimiser of the reference stops where the gradient is about 1e-6.
  expectWithinRelative(fit.shape, 0.49597619, 1e-6, "shape");
  expectWithinRelative(fit.scale, 28.36719, 2e-6, "scale");
  expectWithinRelative(fit.logLikelihood, -293.032888, 1e-9, "log likelihood");
  expectWithinRelative(fit.ratio, 2 * (303.0316253751 - 293.0328879842), 1e-8, "twice the gain");
  expect(fit.p).toBeLessThan(1e-5);
});

test("the plain Weibull distribution of the same circuits has the shape and likelihood of survreg", () => {
  const fit = fitWeibull(countLives(circuits));
  if (fit.kind !== "fit") throw new Error("a fit is expected");
  expectWithinRelative(fit.shape, 0.2001659602125, 1e-9);
  expectWithinRelative(fit.logLikelihood, -303.0316253751, 1e-11);
});

test("lives of a single population give no sign of units that never fail", () => {
  const uniform = seededRandom(8);
  const lives = Array.from({ length: 400 }, (): Life => {
    const age = 100 * (-Math.log(1 - uniform())) ** (1 / 2);
    return age < 150 ? [0, age, 1] : [0, 150, 0];
  });
  const fit = fitDefectiveFraction(countLives(lives));
  if (fit.kind === "fit") expect(fit.p).toBeGreaterThan(0.05);
  else expect(fit.reason).toBe("no-better-than-plain");
});

test("late entries are given what they can tell", () => {
  // 30 % of 3000 units can fail; a third of the units is first seen at age 40. The share comes back within its limits.
  const uniform = seededRandom(9);
  const lives: Life[] = [];
  for (let unit = 0; unit < 3000; unit++) {
    const failsAt = uniform() < 0.3 ? 100 * (-Math.log(1 - uniform())) ** (1 / 1.5) : Number.POSITIVE_INFINITY;
    const entry = unit % 3 === 0 ? 40 : 0;
    const exit = Math.min(failsAt, 400);
    if (exit > entry) lives.push([entry, exit, failsAt <= 400 ? 1 : 0]);
  }
  const fit = fitDefectiveFraction(countLives(lives));
  if (fit.kind !== "fit") throw new Error(`a fit is expected, not ${fit.reason}`);
  const { share } = defectiveFractionLimits(countLives(lives), fit);
  expect(share.lower).toBeLessThan(0.3);
  expect(share.upper).toBeGreaterThan(0.3);
  expect(Math.abs(fit.shape - 1.5)).toBeLessThan(0.15);
});

test("fewer than five failures are too few, and failures only at the end have no plain fit", () => {
  const running: Life[] = Array.from({ length: 50 }, () => [0, 100, 0]);
  const early = (n: number) => Array.from({ length: n }, (_, i): Life => [0, 1 + i, 1]);
  expect(fitDefectiveFraction(countLives([...running, ...early(4)]))).toMatchObject({ reason: "too-few-failures" });
  const atEnd = Array.from({ length: 6 }, (): Life => [0, 100, 1]);
  expect(fitDefectiveFraction(countLives([...running, ...atEnd]))).toMatchObject({ reason: "no-plain-fit" });
});

test("limits are those of the profile likelihood", () => {
  // R 4.2.2: the likelihood maximised over the other two (optim, BFGS to 1e-16), uniroot to 1e-12 where it lies qchisq(.95, 1) / 2
  // below its summit. R's last digits are those of its inner search.
  const counts = countLives(circuits);
  const fit = fitDefectiveFraction(counts);
  if (fit.kind !== "fit") throw new Error("a fit is expected");
  const { share, shape, scale } = defectiveFractionLimits(counts, fit);
  expectWithinRelative(share.lower, 0.00454965703, 1e-6, "share, lower");
  expectWithinRelative(share.upper, 0.00954692157, 1e-6, "share, upper");
  expectWithinRelative(scale.lower ?? 0, 12.2503673, 1e-5, "scale, lower");
  expectWithinRelative(scale.upper ?? 0, 66.6910351, 1e-5, "scale, upper");
  expectWithinRelative(shape.lower ?? 0, 0.355059544, 1e-5, "shape, lower");
  expectWithinRelative(shape.upper ?? 0, 0.651200067, 1e-5, "shape, upper");
});

test("limits and test of the share do not contradict each other, as those by standard errors do", () => {
  // Lives of one population and of a part, ended at many ages: the test halves its tail, so 0.025 is where 95 % limits reach 1.
  const uniform = seededRandom(10);
  let [preferred, excluded] = [0, 0];
  for (let fleet = 0; fleet < 60; fleet++) {
    const canFail = 0.1 + 0.9 * uniform();
    const lives = Array.from({ length: 120 }, (): Life => {
      const age = uniform() < canFail ? 100 * (-Math.log(1 - uniform())) ** (1 / 1.5) : Number.POSITIVE_INFINITY;
      return age < 160 ? [0, age, 1] : [0, 160, 0];
    });
    const counts = countLives(lives);
    const fit = fitDefectiveFraction(counts);
    if (fit.kind !== "fit" || Math.abs(fit.p - 0.025) < 1e-6) continue;
    const isPreferred = fit.p < 0.025;
    const { lower, upper } = defectiveFractionLimits(counts, fit).share;
    expect(lower).toBeLessThan(fit.share);
    expect(upper < 0.9996).toBe(isPreferred);
    if (isPreferred) preferred += 1;
    else excluded += 1;
  }
  expect(Math.min(preferred, excluded)).toBeGreaterThan(3);
});
