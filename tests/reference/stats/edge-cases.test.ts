import { expect, test } from "vitest";
import { wilsonLimits } from "@/lib/stats/binomial-limits";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import type { LifeCount } from "@/lib/stats/life-counts";
import { survivalAtAge } from "@/lib/stats/survival-at-age";
import { survivalQuantile } from "@/lib/stats/survival-quantile";
import { weibullCovariance } from "@/lib/stats/weibull-covariance";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { channingHouseMen } from "@/tests/support/channing-house";
import { countLives, type Life } from "@/tests/support/lives";
import { lungLives } from "@/tests/support/published-lives";
import { expectWithinRelative } from "@/tests/support/within-relative";

function fitted(counts: readonly LifeCount[]) {
  const fit = fitWeibull(counts);
  if (fit.kind !== "fit") throw new Error(`a fit is expected, not ${fit.reason}`);
  return fit;
}

test("at survival 0 the log-log formula has no value and the limits are defined all the same", () => {
  // R's survfit prints NaN for both limits there; the upper one here is that of the step before.
  const { steps } = kaplanMeier(
    countLives([
      [0, 1, 1],
      [0, 2, 1],
      [0, 3, 1],
    ]),
  );
  const last = steps.at(-1);
  expect(last).toMatchObject({ survival: 0, standardError: 0, lower: 0, upper: steps.at(-2)?.upper });
  for (const step of steps) for (const value of Object.values(step)) expect(value).not.toBeNaN();
});

test("the Wilson lower limit of 0 of n is 0, not the 2e-17 that rounding leaves", () => {
  expect(wilsonLimits(0, 10).lower).toBe(0);
});

test("a unit still running at the age of a failure is at risk at it", () => {
  // Kaplan & Meier, JASA 53 (1958) 457-481: losses follow failures of the same age. 1 - 1/2, not 1 - 1/1.
  const [step] = kaplanMeier(
    countLives([
      [0, 5, 1],
      [0, 5, 0],
    ]),
  ).steps;
  expect(step).toMatchObject({ atRisk: 2, survival: 0.5 });
});

const shockAbsorbers = [6700, 9120, 12200, 13150, 14300, 17520, 20100, 20900, 22700, 26510, 27410, 17540, 27490];

test("sigma of the logarithm is one over the shape: the covariance is that of ln sigma and mu", () => {
  const fit = fitted(countLives(shockAbsorbers.map((km, i): Life => [0, km, i < 11 ? 1 : 0])));
  const wide = fitted(countLives(shockAbsorbers.map((km, i): Life => [0, Math.sqrt(km), i < 11 ? 1 : 0])));
  // Taking roots halves sigma, so doubles the shape; ln sigma keeps its variance and mu has a quarter of it.
  expectWithinRelative(wide.shape, 2 * fit.shape, 1e-9);
  const [a, b] = [weibullCovariance(fit), weibullCovariance(wide)];
  expectWithinRelative(b.varianceLogSigma, a.varianceLogSigma, 1e-8);
  expectWithinRelative(b.varianceMu, a.varianceMu / 4, 1e-8);
});

test("log likelihoods by age and by log age differ by the sum of ln age over the failures", () => {
  // Of a density per ln age (smallest extreme value): sum of ln(1 / sigma) + z - e^z, less e^z of the running.
  const lives = shockAbsorbers.map((km, i): Life => [0, km, i < 11 ? 1 : 0]);
  const fit = fitted(countLives(lives));
  let perLogAge = 0;
  let sumOfLogs = 0;
  for (const [, age, failed] of lives) {
    const z = fit.shape * Math.log(age / fit.scale);
    perLogAge += (failed === 1 ? Math.log(fit.shape) + z : 0) - Math.exp(z);
    sumOfLogs += failed === 1 ? Math.log(age) : 0;
  }
  expectWithinRelative(fit.logLikelihood, perLogAge - sumOfLogs, 1e-12);
});

test("a Weibull fit exists only if some failure is earlier than the longest running time", () => {
  expect(
    fitWeibull(
      countLives([
        [0, 9, 1],
        [0, 9, 1],
        [0, 4, 0],
      ]),
    ),
  ).toMatchObject({
    reason: "failures-only-at-largest-age",
  });
  expect(
    fitWeibull(
      countLives([
        [0, 9, 1],
        [0, 9, 1],
        [0, 10, 0],
      ]),
    ).kind,
  ).toBe("fit");
  expect(
    fitWeibull(
      countLives([
        [0, 9, 0],
        [0, 4, 0],
      ]),
    ),
  ).toMatchObject({ reason: "no-failures" });
});

test("the limits of a median depend on their scale: 284 to 361 days log-log, 285 to 363 log", () => {
  // Loprinzi et al., J. Clin. Oncol. 12 (1994) 601-607; R 4.2.2, survfit with conf.type "log-log" and "log".
  const curve = kaplanMeier(countLives(lungLives()));
  expect(survivalQuantile(curve, 0.5)).toEqual({ age: 310, lower: 284, upper: 361 });
  const z = 1.959963984540054;
  const steps = curve.steps.map((step) => {
    const spread = Math.exp((z * step.standardError) / (step.survival || 1));
    return { ...step, lower: step.survival / spread, upper: Math.min(1, step.survival * spread) };
  });
  expect(survivalQuantile({ steps }, 0.5)).toEqual({ age: 310, lower: 285, upper: 363 });
});

test("a median on a flat piece of the curve is its middle, and one never reached is null", () => {
  // R: survfit(Surv(c(1, 2, 3, 4)) ~ 1) has the median 2.5.
  const curve = kaplanMeier(
    countLives([
      [0, 1, 1],
      [0, 2, 1],
      [0, 3, 1],
      [0, 4, 1],
    ]),
  );
  expect(survivalQuantile(curve, 0.5).age).toBe(2.5);
  const running = kaplanMeier(
    countLives([
      [0, 1, 1],
      [0, 9, 0],
      [0, 9, 0],
      [0, 9, 0],
    ]),
  );
  expect(survivalQuantile(running, 0.5).age).toBeNull();
  expect(() => survivalQuantile(curve, 0)).toThrow(RangeError);
});

test("Greenwood's sum and the variance of the cumulative hazard are different numbers", () => {
  // 6-MP arm, Freireich et al., Blood 21 (1963): 3 of 21 fail at week 6. 3 / (21 * 18) against 3 / 21^2.
  const lives = Array.from({ length: 21 }, (_, i): Life => [0, i < 3 ? 6 : 10, i < 3 ? 1 : 0]);
  const [step] = kaplanMeier(countLives(lives)).steps;
  const greenwood = ((step?.standardError ?? 0) / (step?.survival ?? 1)) ** 2;
  expectWithinRelative(greenwood, 3 / (21 * 18), 1e-12);
  expectWithinRelative(step?.cumulativeHazardVariance ?? 0, 3 / 21 ** 2, 1e-12);
});

test("Channing House: an early risk set is used up and said so; from 816 months on the curve is that of the books", () => {
  // Klein & Moeschberger, Survival Analysis (2003), section 4.6; R 4.2.2, survfit, start.time = 816.
  const men = channingHouseMen();
  expect(men).toHaveLength(96);
  const whole = kaplanMeier(countLives(men));
  expect(whole.exhaustedAtAge).toBe(781);
  expect(whole.steps.at(-1)?.survival).toBe(0);
  const from816 = men.filter(([, exit]) => exit > 816).map(([entry, ...rest]): Life => [Math.max(816, entry), ...rest]);
  const curve = kaplanMeier(countLives(from816));
  expect(curve.exhaustedAtAge).toBeNull();
  for (const [age, survival, standardError] of [
    [900, 0.8045311295, 0.07217021574],
    [960, 0.6377614033, 0.07759796786],
    [1020, 0.4543733458, 0.07106640205],
  ] as const) {
    const estimate = survivalAtAge(curve, age);
    if (estimate.kind !== "estimate") throw new Error("an estimate is expected");
    expectWithinRelative(estimate.survival, survival, 1e-9, `survival at ${age}`);
    expectWithinRelative(estimate.standardError, standardError, 1e-9, `error at ${age}`);
  }
});
