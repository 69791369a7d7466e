import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { chiSquareTail } from "@/lib/stats/chi-square-tail";
import { averageRunLength } from "@/lib/stats/cumulative-sum";
import { drawnHomogeneity } from "@/lib/stats/drawn-homogeneity";
import { hazardRatioOfRiskSets } from "@/lib/stats/hazard-ratio";
import { logRankOfRiskSets } from "@/lib/stats/log-rank";
import { type RiskSet, riskSets } from "@/lib/stats/risk-sets";
import { weibullCovariance } from "@/lib/stats/weibull-covariance";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { weibullFailed } from "@/lib/stats/weibull-limits";
import { countLives } from "@/tests/support/lives";
import { publishedLives } from "@/tests/support/published-lives";
import { weibullSet } from "@/tests/support/weibull-sets";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Values of the reference collection that no other test uses. Those that the product has a quantity for are tested below; of
// the others the product has none, for the reason beside each.
const notOfThisProgram: readonly (readonly [value: string, reason: string])[] = [
  [
    "bleed system, all bases, base D and others: fits, their likelihood ratios 28.67472 and 9.144903, log-rank 29.95916841",
    "the counts by base (AFWAL-TR-83-2079) are not among the open data here and in no source that could be read; the same functions are tested on twelve other sets, two of them by the same likelihood ratios (6-MP arms)",
  ],
  [
    "log-rank 29.63, the sum of (O - E)^2 / E",
    "an approximation that the reference itself warns of; the program has the test with the hypergeometric variance only",
  ],
  [
    "Freeman-Halton p = 0.006787682 of five revisions",
    "the program compares groups at equal age and orders outcomes by its own statistic, not by their probability; on the same table, given the same margins, that is tested below",
  ],
  [
    "median-rank regression of the NIST example: -4.116536, 1.457519",
    "no line is fitted to ranks anywhere: the Weibull plot has the maximum-likelihood line, its points halfway up the Kaplan-Meier steps",
  ],
  [
    "Fisher's p that adds up the tables no likelier (0.031976668, 0.025673976), R's min-likelihood p of rate ratios (0.079668633, 0.037295867)",
    "of Fisher and R alike they can contradict the limits beside them: the program has the doubled tail and the mid-p, each with limits of its family (tests fisher-exact, rate-ratio)",
  ],
  [
    "p minus half of p(observed), 0.371428571 ...",
    "the other of two definitions of the mid-p; the program says it is the doubled one-sided mid-p",
  ],
];

test("what is said to be compared nowhere is in no other reference test, so a reason that has become untrue fails here", () => {
  const folders = ["..", "../../support"].map((folder) => path.resolve(import.meta.dirname, folder));
  const others = folders
    .flatMap((folder) =>
      readdirSync(folder, { recursive: true, encoding: "utf8" }).map((file) => path.join(folder, file)),
    )
    .filter((file) => file.endsWith(".ts") && !file.endsWith("values-accounted-for.test.ts"))
    .map((file) => readFileSync(file, "utf8"));
  expect(others.length).toBeGreaterThan(50);
  for (const [value] of notOfThisProgram) {
    const numbers = value.match(/-?[0-9]+\.[0-9]{4,}/g) ?? [];
    for (const number of numbers) expect(others.filter((text) => text.includes(number)).length, number).toBe(0);
  }
  const named = notOfThisProgram.flatMap(([value]) => value.match(/[0-9]+\.[0-9]{4,}/g) ?? []);
  expect(named.length).toBeGreaterThanOrEqual(9);
  expect(new Set(named).size).toBe(named.length);
});

/** Failed and watched of five revisions, all at one age. */
const fiveRevisions = [
  [3, 120],
  [12, 130],
  [7, 150],
  [0, 90],
  [9, 120],
] as const;
const atOneAge: RiskSet = {
  age: 1,
  atRisk: fiveRevisions.map(([, n]) => n),
  failed: fiveRevisions.map(([d]) => d),
};

test("five revisions at one age: the log-rank test is Pearson's, less one unit", () => {
  // R 4.2.2, chisq.test: 12.6241 on 4 degrees, p 0.01326632. With one age the hypergeometric variance has N - 1 where Pearson has N.
  const result = logRankOfRiskSets([[atOneAge]], 5);
  if (result.kind !== "test") throw new Error("a test is expected");
  const pearson = (result.chiSquare * 610) / 609;
  expectWithinRelative(pearson, 12.6241, 5e-6);
  expectWithinRelative(chiSquareTail(pearson, 4), 0.01326632, 1e-6);
});

test("the drawn test of the same table agrees with all 52,360 tables of its margins", () => {
  // Own enumeration: the multivariate hypergeometric distribution that Freeman & Halton use as well.
  const logChoose = (n: number, k: number) => {
    let sum = 0;
    for (let i = 1; i <= k; i++) sum += Math.log((n - k + i) / i);
    return sum;
  };
  const [ties, all] = [31, 610];
  const statistic = (counts: readonly number[]) =>
    counts.reduce((sum, d, g) => {
      const expected = (ties * (fiveRevisions[g]?.[1] ?? 0)) / all;
      return sum + (d - expected) ** 2 / (expected + 1);
    }, 0);
  const seen = statistic(atOneAge.failed);
  const chances = fiveRevisions.map(([, n]) => Array.from({ length: ties + 1 }, (_, d) => logChoose(n, d)));
  let [tables, asGreat] = [0, 0];
  const visit = (counts: readonly number[], left: number, logChance: number): void => {
    const g = counts.length;
    if (g === 4) {
      tables += 1;
      if (statistic([...counts, left]) < seen * (1 - 1e-12)) return;
      asGreat += Math.exp(logChance + (chances[4]?.[left] ?? 0) - logChoose(all, ties));
      return;
    }
    for (let d = 0; d <= left; d++) visit([...counts, d], left - d, logChance + (chances[g]?.[d] ?? 0));
  };
  visit([], ties, 0);
  expect(tables).toBe(52_360);
  const drawn = drawnHomogeneity([[atOneAge]], 5);
  // Twenty as great end the drawing: the p drawn is off by about a quarter of itself.
  expect(drawn?.p).toBeGreaterThan(asGreat / 2.2);
  expect(drawn?.p).toBeLessThan(asGreat * 2.2);
  expect(asGreat).toBeLessThan(0.02);
});

test("bearing cages: shares failed by 1,000 and 5,000 h, and their limits by standard errors", () => {
  // R 4.2.2, survreg: limits of ln(-ln(1 - F)) plus and minus 1.96 standard errors. The program shows limits by likelihood ratio;
  // its covariance, from which forecasts draw, gives these.
  const counts = weibullSet("Bearing cage (Abernethy 1983)");
  const fit = fitWeibull(counts);
  if (fit.kind !== "fit") throw new Error("a fit is expected");
  const { varianceMu, varianceLogSigma, covariance } = weibullCovariance(fit);
  for (const [hours, failed, lower, upper] of [
    [1000, 0.00656953, 0.00295639, 0.01456608],
    [5000, 0.1600543, 0.01802021, 0.81230546],
  ] as const) {
    expectWithinRelative(weibullFailed(fit, hours)?.failed ?? 0, failed, 1e-6, `share by ${hours}`);
    const z = fit.shape * Math.log(hours / fit.scale);
    const variance = fit.shape ** 2 * varianceMu + z * z * varianceLogSigma + 2 * fit.shape * z * covariance;
    const reach = 1.959963985 * Math.sqrt(variance);
    expectWithinRelative(-Math.expm1(-Math.exp(z - reach)), lower, 2e-6, `lower by ${hours}`);
    expectWithinRelative(-Math.expm1(-Math.exp(z + reach)), upper, 2e-6, `upper by ${hours}`);
  }
});

test("with every tied failure a draw of its own the hazard ratio is Breslow's", () => {
  // R 4.2.2, coxph(ties = "breslow") on MASS::gehan: 4.523072. Months of sale are compared so: in a month of age all failures tie.
  const control = publishedLives("Gehan control");
  const treated = publishedLives("Gehan 6-MP");
  const oneByOne = [...riskSets([countLives(control), countLives(treated)])].flatMap(({ age, atRisk, failed }) =>
    failed.flatMap((ties, g) => {
      const set = { age, atRisk, failed: failed.map((_, other) => (other === g ? 1 : 0)) };
      return Array.from({ length: ties }, (): RiskSet => set);
    }),
  );
  const result = hazardRatioOfRiskSets([oneByOne], 0);
  if (result.kind !== "estimate") throw new Error("an estimate is expected");
  expectWithinRelative(result.ratio ?? 0, 4.523072, 2e-7);
});

test("a cumulative sum that signals only above h takes 854.45 periods where at h it takes 548.36", () => {
  // R's surveillance, arlCusum(h = 10, k = 3, theta = 2.4), documented 548.3622655; with whole steps, above 10 is from 11 on.
  expectWithinRelative(averageRunLength(2.4, 3, 11), 854.45, 1e-5);
});
