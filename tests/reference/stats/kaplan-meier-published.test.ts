import { expect, test } from "vitest";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { survivalAtAge } from "@/lib/stats/survival-at-age";
import { numberIn, typedTable } from "@/tests/support/check-table";
import { countLives, type Life } from "@/tests/support/lives";
import { expectWithinRelative } from "@/tests/support/within-relative";

/** One unit of the ninth printed decimal: some values were rounded twice on their way into print. */
const PRINTED = 1e-9;

// Freireich et al., Blood 21 (1963) 699-716, as analysed by Gehan, Biometrika 52 (1965) 203-223: weeks in remission
// under 6-mercaptopurine, + still in remission.
const failed6mp = [6, 6, 6, 7, 10, 13, 16, 22, 23];
const running6mp = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35];
const lives6mp: Life[] = [
  ...failed6mp.map((week): Life => [0, week, 1]),
  ...running6mp.map((week): Life => [0, week, 0]),
];

// S, standard error, log-log limits, H, Var H: R 4.2.2, survival 3.5-3, survfit(conf.type = "log-log"); S and standard
// error are also printed in survival textbooks for these data.
const published6mp = [
  [6, 21, 3, 0.857142857, 0.076360355, 0.619717955, 0.951551748, 0.142857143, 0.006802721],
  [7, 17, 1, 0.806722689, 0.086935285, 0.563146565, 0.922809019, 0.201680672, 0.010262929],
  [10, 15, 1, 0.752941176, 0.096349653, 0.503199511, 0.889361835, 0.268347339, 0.014707373],
  [13, 12, 1, 0.690196078, 0.106814708, 0.431610222, 0.849065963, 0.351680672, 0.021651818],
  [16, 11, 1, 0.62745098, 0.114053865, 0.367510856, 0.80491219, 0.442589763, 0.02991628],
  [22, 7, 1, 0.537815126, 0.128233752, 0.267778937, 0.746790718, 0.585446906, 0.050324443],
  [23, 6, 1, 0.448179272, 0.134591457, 0.188052006, 0.680142629, 0.752113573, 0.078102221],
] as const;

test("the 6-MP remission times give the published curve, standard errors, limits and cumulative hazards", () => {
  const curve = kaplanMeier(countLives(lives6mp));
  const rows = curve.steps.map((s) => [
    s.age,
    s.atRisk,
    s.failures,
    s.survival,
    s.standardError,
    s.lower,
    s.upper,
    s.cumulativeHazard,
    s.cumulativeHazardVariance,
  ]);
  expect(rows).toHaveLength(published6mp.length);
  for (const [r, expected] of published6mp.entries()) {
    for (const [c, value] of expected.entries()) {
      expect(Math.abs((rows[r]?.[c] ?? Number.NaN) - value), `row ${r} column ${c}`).toBeLessThanOrEqual(PRINTED);
    }
  }
});

// therneau/survival, tests/survtest.R, data set `test2`: late entries, a tie of failures, one running unit leaving at
// the same age as two failures. Survival there follows by hand as exact fractions.
const lateEntries: Life[] = [
  [1, 2, 1],
  [2, 3, 1],
  [5, 6, 1],
  [2, 7, 1],
  [1, 8, 1],
  [7, 9, 1],
  [3, 9, 1],
  [4, 9, 0],
  [8, 14, 0],
  [8, 17, 0],
];
const exactLateEntries = [
  [2, 2, 1, 1 / 2, 0.353553391],
  [3, 3, 1, 1 / 3, 0.272165527],
  [6, 5, 1, 4 / 15, 0.22574978],
  [7, 4, 1, 1 / 5, 0.178885438],
  [8, 4, 1, 3 / 20, 0.140978722],
  [9, 5, 2, 9 / 100, 0.090746901],
] as const;

test("late entries give the exact fractions of the published left-truncated example", () => {
  const curve = kaplanMeier(countLives(lateEntries));
  expect(curve.steps.map((s) => [s.age, s.atRisk, s.failures])).toEqual(
    exactLateEntries.map(([age, n, d]) => [age, n, d]),
  );
  for (const [r, [, , , survival, standardError]] of exactLateEntries.entries()) {
    expectWithinRelative(curve.steps[r]?.survival ?? Number.NaN, survival, 4 * Number.EPSILON, `survival in row ${r}`);
    expect(Math.abs((curve.steps[r]?.standardError ?? Number.NaN) - standardError)).toBeLessThanOrEqual(PRINTED);
  }
});

test("a running unit that leaves at a failure age is at risk at it, and one that enters at it is not", () => {
  // In `test2` at age 9: (7,9] (3,9] fail, (4,9] leaves, (8,14] (8,17] stay: 5 at risk. At age 8 two enter: 4 at risk.
  const curve = kaplanMeier(countLives(lateEntries));
  expect(curve.steps.find((s) => s.age === 9)?.atRisk).toBe(5);
  expect(curve.steps.find((s) => s.age === 8)?.atRisk).toBe(4);
});

// NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.1.5: 20 units, six failures, four removed, ten run to 200 h.
const nistLives: Life[] = [
  ...[10, 32, 56, 98, 122, 181].map((hour): Life => [0, hour, 1]),
  ...[50, 100, 125, 150, ...Array.from({ length: 10 }, () => 200)].map((hour): Life => [0, hour, 0]),
];

test("the NIST handbook example gives the handbook's reliabilities", () => {
  const curve = kaplanMeier(countLives(nistLives));
  // 0.95, 0.90 and the products 16/17, 15/16, 13/14, 10/11 of the handbook's worked table.
  const factors = [19 / 20, 18 / 19, 16 / 17, 15 / 16, 13 / 14, 10 / 11];
  let reliability = 1;
  for (const [r, factor] of factors.entries()) {
    reliability *= factor;
    expectWithinRelative(curve.steps[r]?.survival ?? Number.NaN, reliability, 1e-14, `step ${r}`);
  }
  // Last row with limits: R 4.2.2, survival 3.5-3.
  const last = survivalAtAge(curve, 200);
  if (last.kind !== "estimate") throw new Error("an estimate is expected at 200 h");
  expectWithinRelative(last.survival, 0.670359052721, 1e-9);
  expectWithinRelative(last.standardError, 0.11214068588, 1e-9);
  expectWithinRelative(last.lower, 0.4033765948, 1e-9);
  expectWithinRelative(last.upper, 0.838464894, 1e-9);
});

test("no failure among 20 gives the published Clopper-Pearson limit", () => {
  // 0 of 20: 0 to 0.168433. Newcombe, Statist. Med. 17 (1998) 857-872, Table I, row 0/20.
  const estimate = survivalAtAge(kaplanMeier(countLives(Array.from({ length: 20 }, (): Life => [0, 365, 0]))), 365);
  if (estimate.kind !== "estimate") throw new Error("an estimate is expected at the last age");
  expect(estimate.survival).toBe(1);
  expect(estimate.upper).toBe(1);
  expect(1 - estimate.lower).toBeCloseTo(0.168433, 6);
});

for (const { name, expected, lives } of [
  {
    name: "the late entries",
    expected: typedTable(
      "statistics/ref/lt_test2.csv",
      `
time,n_risk,n_event,surv,se_greenwood,lo,hi
2,2,1,0.5,0.35355339059,0.005983087639,0.9104100848
3,3,1,0.3333333333,0.27216552698,0.008961628331,0.7741486504
6,5,1,0.2666666667,0.22574977954,0.009677000579,0.6861362792
7,4,1,0.2,0.1788854382,0.008369039907,0.581853026
8,4,1,0.15,0.1409787218,0.006674483107,0.4875058302
9,5,2,0.09,0.09074690077,0.004206461764,0.3465317681
`,
    ),
    lives: [...lateEntries],
  },
  {
    name: "the NIST handbook example",
    expected: typedTable(
      "statistics/ref/km_nist_8215.csv",
      `
time,n_risk,surv,se,lo,hi
10,20,0.95,0.04873397172,0.6947431933,0.9928022286
32,19,0.9,0.06708203932,0.6560307073,0.9740101744
56,17,0.8470588235,0.08138831992,0.5967951788,0.9480246414
98,16,0.7941176471,0.09192127978,0.5396804825,0.9174480771
122,14,0.737394958,0.10135680339,0.4782409688,0.881784913
181,11,0.6703590527,0.11214068588,0.4033765948,0.838464894
`,
    ),
    lives: [
      ...[10, 32, 56, 98, 122, 181].map((hour): Life => [0, hour, 1]),
      ...[50, 100, 125, 150].map((hour): Life => [0, hour, 0]),
      ...Array.from({ length: 10 }, (): Life => [0, 200, 0]),
    ],
  },
]) {
  test(`${name}: errors and log-log limits agree with survfit to nine digits`, () => {
    // R 4.2.2, survival 3.5-3, survfit(conf.type = "log-log").
    // It also prints ages at which somebody only left; they are not typed.
    const { steps } = kaplanMeier(countLives(lives));
    expect(steps.map(({ age, atRisk }) => [age, atRisk])).toEqual(
      expected.map((row) => [numberIn(row, "time"), numberIn(row, "n_risk")]),
    );
    for (const [i, row] of expected.entries()) {
      const standardError = row.se_greenwood === undefined ? "se" : "se_greenwood";
      expectWithinRelative(steps[i]?.survival ?? -1, numberIn(row, "surv"), 1e-9, "survival");
      expectWithinRelative(steps[i]?.standardError ?? -1, numberIn(row, standardError), 1e-9, "standard error");
      expectWithinRelative(steps[i]?.lower ?? -1, numberIn(row, "lo"), 1e-9, "lower");
      expectWithinRelative(steps[i]?.upper ?? -1, numberIn(row, "hi"), 1e-9, "upper");
    }
  });
}
