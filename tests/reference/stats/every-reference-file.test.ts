import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { checkDataPath } from "@/tests/support/check-data";

// Which test covers which table of published and computed values. A table that is in none of them fails below, and so does a
// test that no longer reads its table.
const coveredBy = {
  "aids_ew_delay_distribution.csv": "stats/chain-ladder",
  "aids_ew_nowcast.csv": "stats/chain-ladder",
  "aids_right_truncated_cdf.csv": "stats/reverse-product-limit",
  "bearing_cage_prediction.csv": "reliability/failure-forecast",
  "benjamini_hochberg_1995.csv": "stats/adjusted-p",
  "binomial_intervals.csv": "stats/binomial-limits",
  "fisher_midp.csv": "stats/fisher-exact",
  "fixture_battery_km.csv": "stats/kaplan-meier-tables",
  "fixture_battery_logrank_pairs.csv": "stats/log-rank",
  "fixture_battery_weibull_lt.csv": "stats/weibull",
  "heat_exchanger_actuarial.csv": "stats/month-grids",
  "km_lung_loglog.csv": "stats/kaplan-meier-tables",
  "km_na.csv": "stats/kaplan-meier-tables",
  "km_nist_8215.csv": "stats/kaplan-meier-published",
  "logrank.csv": "stats/log-rank",
  "lt_test2.csv": "stats/kaplan-meier-published",
  "mack1993_factors.csv": "stats/chain-ladder",
  "mack1993_taylor_ashe.csv": "stats/chain-ladder",
  "maxsprt_poisson_cv.csv": "stats/early-warning",
  "mcf_valve_seat.csv": "stats/mean-cumulative-function",
  "naive_vs_corrected_demo.csv": "stats/naive-against-corrected",
  "nist_cusum_6323.csv": "stats/early-warning",
  "poisson_cusum_arl.csv": "stats/early-warning",
  "poisson_garwood.csv": "stats/poisson-limits",
  "poisson_rate_ratio.csv": "stats/rate-ratio",
  "pumps_gamma_poisson_eb.csv": "stats/empirical-bayes-rates",
  "weibull_mle.csv": "stats/weibull",
} as const;

test("every table named here is read by the test named beside it", () => {
  for (const [table, test] of Object.entries(coveredBy)) {
    const text = readFileSync(path.resolve(import.meta.dirname, "..", `${test}.test.ts`), "utf8");
    expect(text.includes(`statistics/ref/${table}`), `${test} reads ${table}`).toBe(true);
  }
});

test("every table of reference values present is covered by a test", ({ skip }) => {
  const folder = checkDataPath("statistics/ref");
  if (folder === null) return skip("open data not present on this machine");
  const tables = readdirSync(folder).filter((file) => file.endsWith(".csv"));
  expect(tables.filter((table) => !(table in coveredBy))).toEqual([]);
});
