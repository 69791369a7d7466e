import { expect, test } from "vitest";
import { fitIntervalWeibull, type IntervalLife } from "@/lib/stats/interval-censored-weibull";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { weibullLimits } from "@/lib/stats/weibull-limits";
import { numberIn } from "@/tests/support/check-table";
import { countLives, type Life } from "@/tests/support/lives";
import { weibullRow } from "@/tests/support/weibull-sets";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Cracked tubes of heat exchangers at three plants, inspected once a year: Meeker & Escobar, Statistical Methods for
// Reliability Data (1998), example 1.5.
const heatExchanger: IntervalLife[] = [
  { after: 0, by: 1, count: 4 },
  { after: 1, by: 2, count: 5 },
  { after: 2, by: 3, count: 2 },
  { after: 3, by: null, count: 95 },
  { after: 2, by: null, count: 95 },
  { after: 1, by: null, count: 99 },
];

function fitted(lives: readonly IntervalLife[]) {
  const fit = fitIntervalWeibull(lives);
  if (fit.kind !== "fit") throw new Error(`a fit is expected, not ${fit.reason}`);
  return fit;
}

test("yearly inspected heat exchangers give the interval-censored fit of survreg", () => {
  // R 4.2.2, survreg(Surv(type = "interval2")); likelihood-ratio limits by survreg at fixed scale.
  const fit = fitted(heatExchanger);
  expect(fit.failures).toBe(11);
  expectWithinRelative(fit.shape, 1.345515028, 1e-8, "shape");
  // survreg stops once its log likelihood changes by less than 1e-12 of itself: seven digits of the scale.
  expectWithinRelative(fit.scale, 23.61992283, 1e-7, "scale");
  expectWithinRelative(fit.logLikelihood, -54.41470533, 1e-9, "log likelihood");
  expectWithinRelative(fit.shapeLimits?.lower ?? 0, 0.635831, 1e-6, "lower");
  expectWithinRelative(fit.shapeLimits?.upper ?? 0, 2.367268, 1e-6, "upper");
});

test("its lives and their limits agree with survreg", () => {
  const row = weibullRow("Heat exchanger interval-censored (M&E 1998)");
  const fit = fitted(heatExchanger);
  expectWithinRelative(fit.shapeLimits?.lower ?? 0, numberIn(row, "shape_lo_LR"), 1e-7);
  expectWithinRelative(fit.shapeLimits?.upper ?? 0, numberIn(row, "shape_hi_LR"), 1e-7);
  for (const percent of [1, 10, 50]) {
    const life = fit.life(percent / 100);
    expectWithinRelative(life.age, numberIn(row, `B${percent}`), 1e-7, `B${percent}`);
    expectWithinRelative(life.lower, numberIn(row, `B${percent}_lo`), 1e-6, `B${percent} lower`);
    expectWithinRelative(life.upper, numberIn(row, `B${percent}_hi`), 1e-6, `B${percent} upper`);
  }
});

test("with exact ages and late entries it is the ordinary fit", () => {
  const lives: Life[] = [
    [0, 3, 1],
    [0, 7, 1],
    [2, 8, 0],
    [1, 11, 1],
    [0, 15, 1],
    [6, 20, 0],
    [0, 9, 1],
  ];
  const exact = fitWeibull(countLives(lives));
  if (exact.kind !== "fit") throw new Error("a fit is expected");
  const fit = fitted(lives.map(([entry, exit, failed]) => ({ entry, after: exit, by: failed === 1 ? exit : null })));
  expectWithinRelative(fit.shape, exact.shape, 1e-8, "shape");
  expectWithinRelative(fit.scale, exact.scale, 1e-8, "scale");
  expectWithinRelative(fit.logLikelihood, exact.logLikelihood, 1e-12, "log likelihood");
  expectWithinRelative(fit.shapeLimits?.lower ?? 0, weibullLimits(exact)?.shape.lower ?? 0, 1e-7, "lower");
});

test("no failure, one interval for all, and a life that cannot be are told apart", () => {
  expect(fitIntervalWeibull([{ after: 4, by: null }])).toEqual({ kind: "refused", reason: "no-failures" });
  expect(fitIntervalWeibull([{ after: 2, by: 3, count: 5 }])).toEqual({ kind: "refused", reason: "no-maximum" });
  expect(() => fitIntervalWeibull([{ after: 4, by: 3 }])).toThrow(RangeError);
  expect(() => fitIntervalWeibull([{ after: 4, by: null, entry: 5 }])).toThrow(RangeError);
});
