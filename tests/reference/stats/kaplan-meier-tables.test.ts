import { expect, test } from "vitest";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { atRiskAt } from "@/lib/stats/life-counts";
import { survivalAtAge } from "@/lib/stats/survival-at-age";
import { type CheckRow, numberIn, readCheckTable } from "@/tests/support/check-table";
import { countLives, type Life } from "@/tests/support/lives";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Tables of R 4.2.2, survival 3.5-3, survfit(conf.type = "log-log"), printed to 10 significant digits.
const RELATIVE = 1e-9;
const CURVES = "statistics/ref/km_na.csv";

function repeated(rows: readonly CheckRow[], age: string, count: string, failed: (row: CheckRow) => boolean): Life[] {
  return rows.flatMap((row) =>
    Array.from({ length: numberIn(row, count) }, (): Life => [0, numberIn(row, age), failed(row) ? 1 : 0]),
  );
}

const dataSets = [
  // Miller, Survival Analysis (1981): acute myelogenous leukaemia, R package survival, `aml`.
  { name: "aml Maintained", file: "aml", read: arm("x", "Maintained", "time", "status") },
  { name: "aml Nonmaintained", file: "aml", read: arm("x", "Nonmaintained", "time", "status") },
  // Gehan, Biometrika 52 (1965) 203-223, R package MASS, `gehan`.
  { name: "gehan 6-MP", file: "gehan_6mp", read: arm("treat", "6-MP", "time", "cens") },
  { name: "gehan control", file: "gehan_6mp", read: arm("treat", "control", "time", "cens") },
  // Nelson, Applied Life Data Analysis (1982): diesel generator fans.
  {
    name: "nelson fan",
    file: "nelson_fan",
    read: (rows: CheckRow[]) => repeated(rows, "hours", "count", (row) => row.event === "Fail"),
  },
  // O'Connor, Practical Reliability Engineering (1985): shock absorbers.
  {
    name: "shock absorber",
    file: "shock_absorber",
    read: (rows: CheckRow[]) => rows.map((row): Life => [0, numberIn(row, "miles"), row.event === "Failure" ? 1 : 0]),
  },
  // AFWAL-TR-83-2079, Weibull Analysis Handbook (1983): bearing cages.
  {
    name: "bearing cage",
    file: "bearing_cage",
    read: (rows: CheckRow[]) => repeated(rows, "hours", "count", (row) => row.event === "Failed"),
  },
] as const;

function arm(column: string, value: string, age: string, status: string) {
  return (rows: CheckRow[]) =>
    rows
      .filter((row) => row[column] === value)
      .map((row): Life => [0, numberIn(row, age), numberIn(row, status) === 1 ? 1 : 0]);
}

for (const { name, file, read } of dataSets) {
  test(`${name}: curve, limits and cumulative hazard agree with survfit`, ({ skip }) => {
    const rows = readCheckTable(`statistics/data/${file}.csv`);
    const expected = readCheckTable(CURVES)?.filter((row) => row.dataset === name);
    if (rows === null || expected === undefined) return skip("open data not present on this machine");

    const { steps } = kaplanMeier(countLives(read(rows)));
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

test("lung: survival at fixed ages agrees with survfit, 365 days included", ({ skip }) => {
  // North Central Cancer Treatment Group, Loprinzi et al., J. Clin. Oncol. 12 (1994) 601-607; R package survival, `lung`.
  const rows = readCheckTable("statistics/data/lung.csv");
  const expected = readCheckTable("statistics/ref/km_lung_loglog.csv");
  if (rows === null || expected === null) return skip("open data not present on this machine");
  const lives = rows.map((row): Life => [0, numberIn(row, "time"), numberIn(row, "status") === 2 ? 1 : 0]);
  const curve = kaplanMeier(countLives(lives));
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
