import { expect, test } from "vitest";
import { fitCommonShape } from "@/lib/stats/common-shape";
import { LifeTally } from "@/lib/stats/life-tally";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { weibullLimits } from "@/lib/stats/weibull-limits";

function countsOf(failedAt: readonly number[], runningAt: number, running: number, timesTheAge = 1) {
  const tally = new LifeTally();
  for (const age of failedAt) tally.add(0, age * timesTheAge, true, 1);
  tally.add(0, runningAt * timesTheAge, false, running);
  return tally.counts();
}

/** NIST/SEMATECH e-Handbook, 8.4.1.3: ten failures, ten censored at 500. */
const nist = [54, 187, 216, 240, 244, 335, 361, 373, 375, 386];
/** Ten more that fail far earlier: made up. */
const early = [12, 25, 41, 44, 58];

test("two groups of unlike rate have the shape that a fit with a scale for each gives", () => {
  const groups = [countsOf(nist, 500, 10), countsOf(early, 60, 5)];
  const common = fitCommonShape(groups);
  // R 4.2.2, survival: survreg(Surv(t, s) ~ g, dist = "weibull"): 1 / scale, variance of Log(scale), and where the log likelihood at a fixed
  // scale has fallen by half the 95 % point of chi-square. Put together as one group, survreg(Surv(t, s) ~ 1), the shape is 0.937290.
  expect(common?.failures).toBe(15);
  expect(common?.shape).toBeCloseTo(1.751280576, 5);
  expect(common?.varianceLogSigma).toBeCloseTo(0.056883384, 5);
  expect(common?.limits?.lower).toBeCloseTo(1.049081, 4);
  expect(common?.limits?.upper).toBeCloseTo(2.693844, 4);
});

test("of one group it is the fit of that group, and how fast a group ages moves nothing", () => {
  const one = countsOf(nist, 500, 10);
  const fit = fitWeibull(one);
  if (fit.kind === "refused") throw new Error(fit.reason);
  const common = fitCommonShape([one, countsOf([], 900, 40)]);
  expect(common?.shape).toBeCloseTo(fit.shape, 9);
  expect(common?.limits?.upper).toBeCloseTo(weibullLimits(fit)?.shape.upper ?? 0, 9);
  const twice = fitCommonShape([one, countsOf(nist, 500, 10, 20)]);
  expect(twice?.shape).toBeCloseTo(fit.shape, 9);
  expect((twice?.varianceLogSigma ?? 0) * 2).toBeCloseTo(common?.varianceLogSigma ?? 0, 9);
});

test("where nothing failed, or all at the largest age of their group, there is no shape", () => {
  expect(fitCommonShape([])).toBeNull();
  expect(fitCommonShape([countsOf([], 500, 10)])).toBeNull();
  expect(fitCommonShape([countsOf([500, 500], 500, 10), countsOf([60], 60, 3)])).toBeNull();
});
