import { expect, test } from "vitest";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { atRiskAt } from "@/lib/stats/life-counts";
import { survivalAtAge } from "@/lib/stats/survival-at-age";
import { numberIn, readCheckTable, typedTable } from "@/tests/support/check-table";
import { kaplanMeierRows } from "@/tests/support/kaplan-meier-rows";
import { countLives, type Life } from "@/tests/support/lives";
import { lungLives, type PublishedSet, publishedLives } from "@/tests/support/published-lives";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Tables of R 4.2.2, survival 3.5-3, survfit(conf.type = "log-log"), printed to 10 significant digits.
const RELATIVE = 1e-9;
const dataSets: [inTable: string, name: PublishedSet][] = [
  ["aml Maintained", "aml Maintained"],
  ["aml Nonmaintained", "aml Nonmaintained"],
  ["gehan 6-MP", "Gehan 6-MP"],
  ["gehan control", "Gehan control"],
  ["nelson fan", "Nelson diesel fan (1969/1982)"],
  ["shock absorber", "Shock absorber (O'Connor 1985; M&E 1998)"],
  ["bearing cage", "Bearing cage (Abernethy 1983)"],
];

for (const [inTable, name] of dataSets) {
  test(`${inTable}: curve, limits and cumulative hazard agree with survfit`, () => {
    const expected = kaplanMeierRows.filter((row) => row.dataset === inTable);
    const { steps } = kaplanMeier(countLives(publishedLives(name)));
    expect(expected.length).toBeGreaterThan(0);
    expect(steps.map((s) => s.age)).toEqual(expected.map((row) => numberIn(row, "time")));
    for (const [i, row] of expected.entries()) {
      const step = steps[i];
      if (step === undefined) throw new Error(`no step ${i}`);
      expect(step.atRisk).toBe(numberIn(row, "n_risk"));
      expect(step.failures).toBe(numberIn(row, "n_event"));
      expectWithinRelative(step.survival, numberIn(row, "surv"), RELATIVE, "survival");
      expectWithinRelative(step.cumulativeHazard, numberIn(row, "nelson_aalen"), RELATIVE, "cumulative hazard");
      expectWithinRelative(step.cumulativeHazardVariance, numberIn(row, "na_var_poisson"), RELATIVE, "its variance");
      // R prints NaN for these where all units have failed; what this library answers there has its own test.
      if (step.survival === 0) continue;
      expectWithinRelative(step.standardError, numberIn(row, "se_greenwood"), RELATIVE, "standard error");
      expectWithinRelative(step.lower, numberIn(row, "loglog_lo"), RELATIVE, "lower");
      expectWithinRelative(step.upper, numberIn(row, "loglog_hi"), RELATIVE, "upper");
    }
  });
}

test("lung: survival at fixed ages agrees with survfit, 365 days included", () => {
  const expected = typedTable(
    "statistics/ref/km_lung_loglog.csv",
    `
time,n_risk,surv,se,lo,hi
90,201,0.8815789474,0.02139821961,0.83207134221,0.9172136042
180,160,0.7216706534,0.02981241947,0.65830452845,0.7753146907
270,108,0.5753102389,0.03375939253,0.50626504008,0.6382600162
365,65,0.4092416245,0.03582363817,0.33871426909,0.4783807676
500,41,0.2932691937,0.0350778185,0.22650367712,0.3630285997
730,13,0.1156930983,0.02829819732,0.06763215149,0.1778251997
`,
  );
  const curve = kaplanMeier(countLives(lungLives()));
  expect(expected.map((row) => numberIn(row, "time"))).toContain(365);
  for (const row of expected) {
    const estimate = survivalAtAge(curve, numberIn(row, "time"));
    if (estimate.kind !== "estimate") throw new Error("an estimate is expected");
    expect(estimate.atRisk).toBe(numberIn(row, "n_risk"));
    expectWithinRelative(estimate.survival, numberIn(row, "surv"), RELATIVE, "survival");
    expectWithinRelative(estimate.standardError, numberIn(row, "se"), RELATIVE, "standard error");
    expectWithinRelative(estimate.lower, numberIn(row, "lo"), RELATIVE, "lower");
    expectWithinRelative(estimate.upper, numberIn(row, "hi"), RELATIVE, "upper");
  }
});

test("three made-up pack revisions with delayed entry agree with survfit at every tabulated age", ({ skip }) => {
  const rows = readCheckTable("statistics/data/fixture_battery_3rev.csv");
  const expected = readCheckTable("statistics/ref/fixture_battery_km.csv");
  if (rows === null || expected === null) return skip("open data not present on this machine");
  expect(expected).toHaveLength(15);
  for (const row of expected) {
    const lives = rows
      .filter((unit) => unit.rev === row.rev)
      .map((u): Life => [numberIn(u, "entry_age"), numberIn(u, "exit_age"), numberIn(u, "failed") === 1 ? 1 : 0]);
    const curve = kaplanMeier(countLives(lives));
    const estimate = survivalAtAge(curve, numberIn(row, "age"));
    if (estimate.kind !== "estimate") throw new Error("an estimate is expected");
    expect(estimate.atRisk).toBe(lives.filter(([entry, exit]) => entry < estimate.age && estimate.age <= exit).length);
    // Between two exits R prints the number at risk at the next exit, late entries up to there included.
    const nextExit = Math.min(...lives.map(([, exit]) => exit).filter((exit) => exit >= estimate.age));
    expect(atRiskAt(curve.counts, nextExit)).toBe(numberIn(row, "n_risk"));
    expectWithinRelative(1 - estimate.survival, numberIn(row, "F"), RELATIVE, "F");
    expectWithinRelative(estimate.standardError, numberIn(row, "se"), RELATIVE, "standard error");
    expectWithinRelative(1 - estimate.upper, numberIn(row, "F_lo"), RELATIVE, "lower limit of F");
    expectWithinRelative(1 - estimate.lower, numberIn(row, "F_hi"), RELATIVE, "upper limit of F");
    const last = curve.steps.filter((step) => step.age <= estimate.age).at(-1);
    expectWithinRelative(last?.cumulativeHazard ?? 0, numberIn(row, "cumhaz"), RELATIVE, "cumulative hazard");
  }
});
