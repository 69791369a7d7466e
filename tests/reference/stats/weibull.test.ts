import { expect, test } from "vitest";
import { weibullCovariance } from "@/lib/stats/weibull-covariance";
import { fitWeibull, type WeibullFit } from "@/lib/stats/weibull-fit";
import { weibullLimits } from "@/lib/stats/weibull-limits";
import { numberIn, readCheckTable } from "@/tests/support/check-table";
import { countLives, type Life } from "@/tests/support/lives";
import { weibullRow, weibullSet, weibullSetNames } from "@/tests/support/weibull-sets";
import { expectWithinRelative } from "@/tests/support/within-relative";

function fitted(counts: Parameters<typeof fitWeibull>[0]): WeibullFit {
  const fit = fitWeibull(counts);
  if (fit.kind !== "fit") throw new Error(`a fit is expected, not ${fit.reason}`);
  return fit;
}

test("the NIST handbook's censored example gives its shape and scale", () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.3: 10 failures, 10 units censored at 500; it prints shape
  // 1.7207 and scale 606.528. The converged maximum is 1.720797, 606.52756 (R survreg; scipy 1.17.1), so the printed
  // scale is off in its seventh digit and is compared to its sixth.
  const failures = [54, 187, 216, 240, 244, 335, 361, 373, 375, 386].map((hour): Life => [0, hour, 1]);
  const fit = fitted(countLives([...failures, ...Array.from({ length: 10 }, (): Life => [0, 500, 0])]));
  expectWithinRelative(fit.shape, 1.7207, 1e-4, "printed shape");
  expectWithinRelative(fit.scale, 606.528, 1e-6, "printed scale");
  expectWithinRelative(fit.shape, 1.7207972608, 1e-9, "shape");
  expectWithinRelative(fit.scale, 606.527558, 1e-9, "scale");
  expectWithinRelative(fit.logLikelihood, -75.13461816, 1e-9, "log likelihood");
});

for (const name of weibullSetNames) {
  test(`${name}: shape, scale, likelihood, limits and covariance agree with survreg`, () => {
    // R 4.2.2, survival 3.5-3, survreg; likelihood-ratio limits of the shape by survreg at fixed scale.
    const row = weibullRow(name);
    const counts = weibullSet(name);
    const fit = fitted(counts);
    expect(fit.failures).toBe(numberIn(row, "failures"));
    expectWithinRelative(fit.shape, numberIn(row, "shape"), 1e-8, "shape");
    expectWithinRelative(fit.scale, numberIn(row, "scale"), 1e-8, "scale");
    expectWithinRelative(fit.logLikelihood, numberIn(row, "loglik"), 1e-9, "log likelihood");
    const limits = weibullLimits(fit);
    expectWithinRelative(limits?.shape.lower ?? 0, numberIn(row, "shape_lo_LR"), 1e-7, "lower limit of shape");
    expectWithinRelative(limits?.shape.upper ?? 0, numberIn(row, "shape_hi_LR"), 1e-7, "upper limit of shape");
    const covariance = weibullCovariance(fit);
    expectWithinRelative(Math.sqrt(covariance.varianceMu), numberIn(row, "se_mu"), 1e-6, "se of mu");
    expectWithinRelative(Math.sqrt(covariance.varianceLogSigma), numberIn(row, "se_logsigma"), 1e-6, "se of ln sigma");
    expectWithinRelative(covariance.covariance, numberIn(row, "cov_mu_logsigma"), 1e-5, "covariance");
    // Limits by standard errors of the logarithms, which many programs print; here they follow from the covariance.
    const wald = (middle: number, variance: number) => Math.exp(1.959963985 * Math.sqrt(variance)) / middle;
    const [ofShape, ofScale] = [wald(fit.shape, covariance.varianceLogSigma), wald(fit.scale, covariance.varianceMu)];
    expectWithinRelative(1 / ofShape, numberIn(row, "shape_lo_log"), 1e-6, "lower log limit of shape");
    expectWithinRelative(ofShape * fit.shape ** 2, numberIn(row, "shape_hi_log"), 1e-6, "upper log limit of shape");
    expectWithinRelative(1 / ofScale, numberIn(row, "scale_lo_log"), 1e-6, "lower log limit of scale");
    expectWithinRelative(ofScale * fit.scale ** 2, numberIn(row, "scale_hi_log"), 1e-6, "upper log limit of scale");
  });
}

// scipy 1.17.1: likelihood profiled with optimize.minimize_scalar, limits by optimize.brentq where it has dropped by
// half of chi2.ppf(0.95, 1). Files: three made-up revisions with delayed entry.
const delayed = [
  ["A", 0.8560476541526424, 2.2043901402162276, 2473.7946852212012, 21282.989003691717],
  ["B", 0.9447935405228282, 1.9843106415678717, 2263.602364818988, 8606.934377788144],
  ["C", 0.6850392268187158, 2.0825137989959868, 3268.7500985392303, 57517.59717508915],
] as const;

for (const [revision, shapeLower, shapeUpper, scaleLower, scaleUpper] of delayed) {
  test(`with delayed entry revision ${revision} gives the reference fit and likelihood-ratio limits`, ({ skip }) => {
    // Fit: R 4.2.2, direct maximum of the truncated likelihood; its own optimiser stops at about 7 digits.
    const row = readCheckTable("statistics/ref/fixture_battery_weibull_lt.csv")?.find((r) => r.rev === revision);
    const units = readCheckTable("statistics/data/fixture_battery_3rev.csv")?.filter((r) => r.rev === revision);
    if (row === undefined || units === undefined) return skip("open data not present on this machine");
    const lives = units.map(
      (unit): Life => [numberIn(unit, "entry_age"), numberIn(unit, "exit_age"), unit.failed === "1" ? 1 : 0],
    );
    const fit = fitted(countLives(lives));
    expectWithinRelative(fit.shape, numberIn(row, "shape"), 1e-6, "shape");
    expectWithinRelative(fit.scale, numberIn(row, "scale"), 1e-6, "scale");
    expectWithinRelative(fit.logLikelihood, numberIn(row, "loglik"), 1e-9, "log likelihood");
    const limits = weibullLimits(fit);
    expectWithinRelative(limits?.shape.lower ?? 0, shapeLower, 1e-9, "lower limit of shape");
    expectWithinRelative(limits?.shape.upper ?? 0, shapeUpper, 1e-9, "upper limit of shape");
    expectWithinRelative(limits?.scale.lower ?? 0, scaleLower, 1e-9, "lower limit of scale");
    expectWithinRelative(limits?.scale.upper ?? 0, scaleUpper, 1e-9, "upper limit of scale");

    const ignoringEntry = fitted(countLives(lives.map(([, exit, status]): Life => [0, exit, status])));
    expectWithinRelative(ignoringEntry.shape, numberIn(row, "survreg_naive_shape"), 1e-8, "shape ignoring entry");
  });
}

test("the likelihood-ratio limits of the scale of the NIST example agree with scipy", () => {
  // scipy 1.17.1, as above.
  const failures = [54, 187, 216, 240, 244, 335, 361, 373, 375, 386].map((hour): Life => [0, hour, 1]);
  const fit = fitted(countLives([...failures, ...Array.from({ length: 10 }, (): Life => [0, 500, 0])]));
  const limits = weibullLimits(fit);
  expectWithinRelative(limits?.scale.lower ?? 0, 437.5567453940589, 1e-9, "lower limit of scale");
  expectWithinRelative(limits?.scale.upper ?? 0, 1118.8776246985788, 1e-9, "upper limit of scale");
});
