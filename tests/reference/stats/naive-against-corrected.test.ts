import { expect, test } from "vitest";
import { gammaQuantile } from "@/lib/stats/incomplete-gamma";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { LifeTally } from "@/lib/stats/life-tally";
import { survivalAtAge } from "@/lib/stats/survival-at-age";
import { numberIn, typedTable } from "@/tests/support/check-table";
import { seededRandom } from "@/tests/support/seeded-random";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Twelve build quarters of 2000 packs, the 4th and 9th truly worse; stock delay gamma(2) of mean 60 days, report lag gamma(2) of
// mean 40 days, data date day 1080, share failed by day 182 in use. A made-up fleet with a known truth; means of 200
// replicates by R 4.2.2 stand in the table.
const DATA_DATE = 1080;
const PACKS = 2000;
const REPLICATES = 12;
const LAG_95 = 20 * gammaQuantile(2, 0.95);

function simulate(revision: number, uniform: () => number) {
  const gammaOfTwo = (scale: number) => -scale * (Math.log(1 - uniform()) + Math.log(1 - uniform()));
  const scale = revision === 4 || revision === 9 ? 9700 * 0.7 : 9700;
  const cutBack = new LifeTally();
  let returns = 0;
  for (let pack = 0; pack < PACKS; pack++) {
    const use = (revision - 1) * 90 + 90 * uniform() + gammaOfTwo(30);
    const fails = use + scale * (-Math.log(1 - uniform())) ** (1 / 1.2);
    if (fails + gammaOfTwo(20) <= DATA_DATE) returns += 1;
    const end = DATA_DATE - LAG_95;
    if (use < end) cutBack.add(0, Math.min(fails, end) - use, fails <= end);
  }
  const estimate = survivalAtAge(kaplanMeier(cutBack.counts()), 182);
  return {
    naive: (100 * returns) / PACKS,
    failed: estimate.kind === "estimate" ? 100 * (1 - estimate.survival) : null,
    variance: estimate.kind === "estimate" ? (100 * estimate.standardError) ** 2 : 0,
  };
}

test("the naive ratio hides the bad young revision, the curve cut back by the lag gives the truth", () => {
  const rows = typedTable(
    "statistics/ref/naive_vs_corrected_demo.csv",
    `
rev,naive_pct_of_shipped,KM6_in_service_cut_back_pct,true_F_6_MIS_pct
1,5.8385,0.85125,0.843570382438
2,5.2,0.8125,0.843570382438
3,4.51825,0.819000126199,0.843570382438
4,5.9475,1.28975,1.29128687918
5,3.28875,0.838757675341,0.843570382438
6,2.72625,0.856097857664,0.843570382438
7,2.1285,0.837536505298,0.843570382438
8,1.56,0.851879210296,0.843570382438
9,1.58775,1.28119228489,1.29128687918
10,0.586,NA,0.843570382438
11,0.182,NA,0.843570382438
12,0.012,NA,0.843570382438
`,
  );
  const uniform = seededRandom(7);
  const means = rows.map((row) => {
    const revision = numberIn(row, "rev");
    const runs = Array.from({ length: REPLICATES }, () => simulate(revision, uniform));
    const mean = (values: (number | null)[]) =>
      values.includes(null) ? null : values.reduce((sum: number, v) => sum + (v ?? 0), 0) / values.length;
    return {
      row,
      naive: mean(runs.map((r) => r.naive)) ?? 0,
      failed: mean(runs.map((r) => r.failed)),
      variance: mean(runs.map((r) => r.variance)) ?? 0,
    };
  });
  const compared: string[] = [];
  for (const { row, naive, failed, variance } of means) {
    const truth = numberIn(row, "true_F_6_MIS_pct");
    const scale = row.rev === "4" || row.rev === "9" ? 9700 * 0.7 : 9700;
    expectWithinRelative(truth, -100 * Math.expm1(-((182 / scale) ** 1.2)), 1e-9, "truth");
    // A share of p percent of 2000 packs, averaged over 12 replicates and compared with 200: four standard errors.
    const allowed = (p: number) => 400 * Math.sqrt(((p / 100) * (1 - p / 100) * (1 / REPLICATES + 1 / 200)) / PACKS);
    expect(Math.abs(naive - numberIn(row, "naive_pct_of_shipped"))).toBeLessThan(allowed(naive) + 0.02);
    // Of the newest three no pack has reached six months with its report in.
    if (row.KM6_in_service_cut_back_pct === "NA") continue;
    expect(failed, row.rev).not.toBeNull();
    // Four standard errors by Greenwood's variance, of the mean of 12 and, in the table, of 200.
    const reach = 4 * Math.sqrt(variance * (1 / REPLICATES + 1 / 200));
    expect(Math.abs((failed ?? 0) - numberIn(row, "KM6_in_service_cut_back_pct")), row.rev).toBeLessThan(reach);
    expect(Math.abs((failed ?? 0) - truth), row.rev).toBeLessThan(4 * Math.sqrt(variance / REPLICATES));
    compared.push(row.rev ?? "");
  }
  expect(compared).toEqual(["1", "2", "3", "4", "5", "6", "7", "8", "9"]);
  const [first, ninth] = [means[0], means[8]];
  expect(ninth?.naive).toBeLessThan((first?.naive ?? 0) / 3);
  expect(ninth?.failed).toBeGreaterThan(first?.failed ?? 0);
});
