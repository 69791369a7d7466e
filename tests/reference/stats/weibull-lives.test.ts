import { expect, test } from "vitest";
import { lifeAtShare, weibayes } from "@/lib/stats/weibayes";
import { compareWeibulls } from "@/lib/stats/weibull-comparison";
import { fitWeibull, type WeibullFit } from "@/lib/stats/weibull-fit";
import { weibullFailed, weibullLife, weibullLimits } from "@/lib/stats/weibull-limits";
import { numberIn } from "@/tests/support/check-table";
import { countLives, type Life } from "@/tests/support/lives";
import { publishedLives } from "@/tests/support/published-lives";
import { weibullRow, weibullSet, weibullSetNames } from "@/tests/support/weibull-sets";
import { expectWithinRelative } from "@/tests/support/within-relative";

function fitted(counts: Parameters<typeof fitWeibull>[0]): WeibullFit {
  const fit = fitWeibull(counts);
  if (fit.kind !== "fit") throw new Error(`a fit is expected, not ${fit.reason}`);
  return fit;
}

for (const name of weibullSetNames) {
  test(`${name}: B1, B10 and B50 lives with their normal limits agree with survreg`, () => {
    // R 4.2.2, survival 3.5-3, survreg; limits of plus and minus 1.96 standard errors of the logarithm.
    const row = weibullRow(name);
    const counts = weibullSet(name);
    for (const percent of [1, 10, 50]) {
      const life = weibullLife(fitted(counts), percent / 100);
      expectWithinRelative(life?.age ?? 0, numberIn(row, `B${percent}`), 1e-7, `B${percent}`);
      expectWithinRelative(life?.wald.lower ?? 0, numberIn(row, `B${percent}_lo`), 1e-6, `B${percent} lower`);
      expectWithinRelative(life?.wald.upper ?? 0, numberIn(row, `B${percent}_hi`), 1e-6, `B${percent} upper`);
    }
  });
}

test("shock absorbers: likelihood-ratio limits of lives and of the share failed agree with a constrained search", () => {
  // R 4.2.2: optimize over ln sigma with the life, or the share failed by 10,000 km, held; uniroot to 1e-12.
  const counts = weibullSet("Shock absorber (O'Connor 1985; M&E 1998)");
  const fit = fitted(counts);
  for (const [share, lower, upper] of [
    [0.01, 2855.443125238, 10171.04597148],
    [0.1, 9371.202394059, 17291.23793562],
    [0.5, 20791.99815547, 32274.7052388],
  ] as const) {
    const life = weibullLife(fit, share);
    expectWithinRelative(life?.lower ?? 0, lower, 1e-7, `lower at ${share}`);
    expectWithinRelative(life?.upper ?? 0, upper, 1e-7, `upper at ${share}`);
  }
  const failed = weibullFailed(fit, 10_000);
  expectWithinRelative(failed?.failed ?? 0, 0.03908409687055, 1e-8);
  expectWithinRelative(failed?.lower ?? 0, 0.009248126324818, 1e-7);
  expectWithinRelative(failed?.upper ?? 0, 0.1135812528258, 1e-7);
});

test("the life at 63.2 % is the scale, with the limits of the scale", () => {
  const fit = fitted(
    countLives([
      [0, 3, 1],
      [0, 7, 1],
      [0, 8, 0],
      [0, 11, 1],
      [0, 15, 1],
      [0, 20, 0],
    ]),
  );
  const life = weibullLife(fit, 1 - Math.exp(-1));
  const limits = weibullLimits(fit);
  expectWithinRelative(life?.age ?? 0, fit.scale, 1e-12);
  expectWithinRelative(life?.lower ?? 0, limits?.scale.lower ?? 0, 1e-9);
  expectWithinRelative(life?.upper ?? 0, limits?.scale.upper ?? 0, 1e-9);
  expect(() => weibullLife(fit, 1)).toThrow(RangeError);
  expect(() => weibullFailed(fit, 0)).toThrow(RangeError);
});

test("bearing cages at an assumed shape give the published kind of lower limit", () => {
  // AFWAL-TR-83-2079 (1983) data; R 4.2.2: scale, B10, and the 95 % lower scale by chi-square on 2 r + 2.
  const counts = weibullSet("Bearing cage (Abernethy 1983)");
  for (const [shape, scale, b10, lower] of [
    [1.5, 28982.1567, 6465.2098, 18419.2449],
    [2, 12320.3366, 3999.0931, 8769.5724],
  ] as const) {
    const result = weibayes(counts, shape);
    if ("kind" in result) throw new Error("a result is expected");
    expectWithinRelative(result.scale ?? 0, scale, 1e-8);
    expectWithinRelative(lifeAtShare(shape, result.scale ?? 0, 0.1), b10, 1e-8);
    expectWithinRelative(result.lowerOneSided, lower, 1e-8);
  }
});

test("without a failure an assumed shape still gives a lower limit, and at shape 1 the well-known 3 in T", () => {
  // 1000 unit-days without failure: the rate is below 2.9957 / 1000 at one-sided 95 %.
  const counts = countLives(Array.from({ length: 10 }, (): Life => [0, 100, 0]));
  const result = weibayes(counts, 1);
  if ("kind" in result) throw new Error("a result is expected");
  expect(result).toMatchObject({ failures: 0, scale: null, upper: null });
  expectWithinRelative(1 / result.lowerOneSided, -Math.log(0.05) / 1000, 1e-12);
  expect(weibayes([], 2)).toEqual({ kind: "nothing-observed" });
  expect(() => weibayes(counts, 0)).toThrow(RangeError);
});

const treated = publishedLives("Gehan 6-MP");
const control = publishedLives("Gehan control");

test("the two arms of the 6-MP trial share a shape but not a distribution, as survreg says", () => {
  // R 4.2.2, survreg(~ treat), (~ treat + strata(treat)), (~ 1).
  const result = compareWeibulls([countLives(treated), countLives(control)]);
  if (result.kind !== "comparison") throw new Error("a comparison is expected");
  expectWithinRelative(result.commonShape, 1.36575750159, 1e-9, "shape");
  expectWithinRelative(result.scales[0] ?? 0, 33.63902820123, 1e-8, "scale under 6-MP");
  expectWithinRelative(result.scales[1] ?? 0, 9.472116325731, 1e-8, "scale of the control");
  expectWithinRelative(result.equalShape.statistic, 0.001411031339956, 1e-6, "shapes");
  expectWithinRelative(result.equalDistribution.statistic, 19.65324182751, 1e-9, "distributions");
  expect([result.equalShape.degreesOfFreedom, result.equalDistribution.degreesOfFreedom]).toEqual([1, 2]);
});

test("groups are not compared where one of them has no fit", () => {
  const none = countLives([[0, 5, 0]]);
  expect(compareWeibulls([countLives(treated), none])).toEqual({ kind: "refused", reason: "group-without-fit" });
  expect(compareWeibulls([countLives(treated)])).toEqual({ kind: "refused", reason: "fewer-than-two-groups" });
});
