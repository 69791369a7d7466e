/**
 * Which test, or which rows typed in for tests, cover which table of published and computed values: a path under `tests` without its end. A
 * table of the collection that is not here fails a test, and so does a file that no longer reads its table.
 */
export const coveredBy = {
  "aids_ew_delay_distribution.csv": "reference/stats/delay-nowcast.test",
  "aids_ew_nowcast.csv": "reference/stats/delay-nowcast.test",
  "aids_right_truncated_cdf.csv": "reference/stats/reverse-product-limit.test",
  "bearing_cage_prediction.csv": "reference/reliability/failure-forecast.test",
  "benjamini_hochberg_1995.csv": "reference/stats/adjusted-p.test",
  "binomial_intervals.csv": "reference/stats/binomial-limits.test",
  "fisher_midp.csv": "reference/stats/fisher-exact.test",
  "fixture_battery_km.csv": "reference/stats/kaplan-meier-tables.test",
  "fixture_battery_logrank_pairs.csv": "reference/stats/log-rank.test",
  "fixture_battery_weibull_lt.csv": "reference/stats/weibull.test",
  "heat_exchanger_actuarial.csv": "reference/stats/month-grids.test",
  "km_lung_loglog.csv": "reference/stats/kaplan-meier-tables.test",
  "km_na.csv": "support/kaplan-meier-rows",
  "km_nist_8215.csv": "reference/stats/kaplan-meier-published.test",
  "logrank.csv": "support/log-rank-rows",
  "lt_test2.csv": "reference/stats/kaplan-meier-published.test",
  "mack1993_factors.csv": "reference/stats/chain-ladder.test",
  "mack1993_taylor_ashe.csv": "reference/stats/chain-ladder.test",
  "maxsprt_poisson_cv.csv": "reference/stats/early-warning.test",
  "mcf_valve_seat.csv": "reference/stats/mean-cumulative-function.test",
  "naive_vs_corrected_demo.csv": "reference/stats/naive-against-corrected.test",
  "nist_cusum_6323.csv": "reference/stats/early-warning.test",
  "poisson_cusum_arl.csv": "reference/stats/early-warning.test",
  "poisson_garwood.csv": "reference/stats/poisson-limits.test",
  "poisson_rate_ratio.csv": "reference/stats/rate-ratio.test",
  "pumps_gamma_poisson_eb.csv": "reference/stats/empirical-bayes-rates.test",
  "weibull_mle.csv": "support/weibull-sets",
} as const;
