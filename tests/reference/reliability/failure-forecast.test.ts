import { expect, test } from "vitest";
import { type FailureForecast, forecastFailures } from "@/lib/reliability/failure-forecast";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { numberIn, readCheckTable } from "@/tests/support/check-table";
import { readWeibullSet } from "@/tests/support/weibull-sets";
import { expectWithinRelative } from "@/tests/support/within-relative";

test("the bearing cages' next 300 hours bring the published number of failures", ({ skip }) => {
  // AFWAL-TR-83-2079, Weibull Analysis Handbook (1983); Meeker & Escobar (1998), table 12.1, print 5.057 from a fit
  // rounded to four digits (quoted from memory). R 4.2.2: 5.058209. The limits: numpy, 1,000,000 draws of ln scale and
  // ln sigma from R's covariance, each with binomial failures; the share of draws up to 65 is 0.97469, up to 66 0.97506.
  const counts = readWeibullSet("Bearing cage (Abernethy 1983)");
  if (counts === null) return skip("open data not present on this machine");
  const fit = fitWeibull(counts);
  if (fit.kind !== "fit") throw new Error("a fit is expected");
  const running = counts.filter((c) => c.censored > 0).map((c) => ({ age: c.age, units: c.censored }));
  const at = (confidence: number): FailureForecast => {
    const forecast = forecastFailures(fit, running, 300, confidence);
    if (forecast.kind !== "forecast") throw new Error("a forecast is expected");
    return forecast;
  };
  expectWithinRelative(at(0.95).expected, 5.058209, 1e-6, "expected failures");
  expect([at(0.95).lower, at(0.95).upper]).toEqual([1, 66]);
  expect([at(0.9).lower, at(0.9).upper]).toEqual([2, 33]);
  expect([at(0.5).lower, at(0.5).upper]).toEqual([4, 10]);
});

test("each age class of the bearing cages has the expected failures of the next 300 hours", ({ skip }) => {
  // R 4.2.2: units times [F(t + 300) - F(t)] / [1 - F(t)] at the survreg fit; Meeker & Escobar (1998), table 12.1.
  const rows = readCheckTable("statistics/ref/bearing_cage_prediction.csv");
  const counts = readWeibullSet("Bearing cage (Abernethy 1983)");
  if (rows === null || counts === null) return skip("open data not present on this machine");
  const fit = fitWeibull(counts);
  if (fit.kind !== "fit") throw new Error("a fit is expected");
  expect(rows).toHaveLength(19);
  for (const row of rows) {
    const forecast = forecastFailures(fit, [{ age: numberIn(row, "hours"), units: numberIn(row, "count") }], 300);
    if (forecast.kind !== "forecast") throw new Error("a forecast is expected");
    expectWithinRelative(forecast.expected, numberIn(row, "exp"), 1e-7, `running at ${row.hours} h`);
  }
});
