import { expect, test } from "vitest";
import { actuarialTable } from "@/lib/stats/actuarial-table";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { numberIn, typedTable } from "@/tests/support/check-table";
import { countLives, type Life } from "@/tests/support/lives";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Heat exchanger tubes looked at once a year: Meeker & Escobar, Statistical Methods for Reliability Data (1998), chapter 3.
const years = [
  { to: 1, failed: 4, withdrawn: 99 },
  { to: 2, failed: 5, withdrawn: 95 },
  { to: 3, failed: 2, withdrawn: 95 },
];

test("heat exchangers give the printed yearly shares, errors and logit limits", () => {
  // Printed by Meeker & Escobar (from memory) and by R 4.2.2.
  const printed = [
    [300, 0.01333333, 0.00662207, 0.00501, 0.03498],
    [197, 0.03837563, 0.01280212, 0.01982, 0.07302],
    [97, 0.05820294, 0.01870063, 0.03069, 0.10763],
  ] as const;
  const steps = actuarialTable(300, years, "at-end");
  for (const [i, [atRisk, share, error, lower, upper]] of printed.entries()) {
    expect(steps[i]?.atRisk).toBe(atRisk);
    expectWithinRelative(steps[i]?.failedShare ?? 0, share, 5e-7, "share");
    expectWithinRelative(steps[i]?.standardError ?? 0, error, 1e-6, "error");
    expect(Math.abs((steps[i]?.lower ?? 0) - lower)).toBeLessThan(5.1e-6);
    expect(Math.abs((steps[i]?.upper ?? 0) - upper)).toBeLessThan(5.1e-6);
  }
});

test("they agree with R to nine digits", () => {
  const rows = typedTable(
    "statistics/ref/heat_exchanger_actuarial.csv",
    `
F,se,logit_lo,logit_hi
0.01333333333,0.006622073078,0.005013243255,0.03497623757
0.03837563452,0.012802115196,0.019818180763,0.07301557594
0.05820294102,0.018700629503,0.030694127582,0.10762831306
`,
  );
  const steps = actuarialTable(300, years, "at-end");
  expect(rows).toHaveLength(3);
  for (const [i, row] of rows.entries()) {
    expectWithinRelative(steps[i]?.failedShare ?? 0, numberIn(row, "F"), 1e-9, "share");
    expectWithinRelative(steps[i]?.standardError ?? 0, numberIn(row, "se"), 1e-9, "error");
    expectWithinRelative(steps[i]?.lower ?? 0, numberIn(row, "logit_lo"), 1e-9, "lower");
    expectWithinRelative(steps[i]?.upper ?? 0, numberIn(row, "logit_hi"), 1e-9, "upper");
  }
});

test("a table whose units are withdrawn at the end of intervals is a Kaplan-Meier curve on the grid", () => {
  const lives = years.flatMap(({ to, failed, withdrawn }) => [
    ...Array.from({ length: failed }, (): Life => [0, to, 1]),
    ...Array.from({ length: withdrawn }, (): Life => [0, to, 0]),
  ]);
  const curve = kaplanMeier(countLives(lives));
  for (const [i, step] of actuarialTable(300, years, "at-end").entries()) {
    expectWithinRelative(step.failedShare, 1 - (curve.steps[i]?.survival ?? 0), 1e-12);
    expectWithinRelative(step.standardError, curve.steps[i]?.standardError ?? 0, 1e-12);
  }
});

test("units withdrawn somewhere in an interval count half in it", () => {
  // By hand: 100 enter, 20 withdrawn, 9 failed: 9 / 90.
  const [step] = actuarialTable(100, [{ to: 1, failed: 9, withdrawn: 20 }], "spread");
  expect(step?.atRisk).toBe(90);
  expectWithinRelative(step?.failedShare ?? 0, 0.1, 1e-14);
});

test("without failures nothing is claimed, and more leaving than there are is refused", () => {
  expect(actuarialTable(10, [{ to: 1, failed: 0, withdrawn: 2 }], "at-end")[0]).toMatchObject({ lower: 0, upper: 1 });
  expect(() => actuarialTable(10, [{ to: 1, failed: 9, withdrawn: 2 }], "at-end")).toThrow(RangeError);
  expect(
    actuarialTable(
      5,
      [
        { to: 1, failed: 5, withdrawn: 0 },
        { to: 2, failed: 0, withdrawn: 0 },
      ],
      "at-end",
    ),
  ).toHaveLength(1);
});
