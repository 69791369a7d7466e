import { expect, test } from "vitest";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { lagQuantile, reverseProductLimit, shareKnownAfter } from "@/lib/stats/reverse-product-limit";
import { numberIn, typedTable } from "@/tests/support/check-table";
import { countLives, type Life } from "@/tests/support/lives";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Lagakos, Barraj & De Gruttola, Biometrika 75 (1988) 515-523: years from infection to AIDS, all infected less than
// 8 years before the data date. R package KMsurv, `aids`; the product worked out directly in R 4.2.2.
const LONGEST_YEARS = 8;

// Year of infection since the first, then the lags of all infected in it.
const adults = `
  0:5 0.25:6.75 0.75:5,5,7.25 1:4.25,5.75,6.25,6.5 1.25:4,4.25,4.75,5.75 1.5:2.75,3.75,5,5.5,6.5
  1.75:2.75,3,5.25,5.25 2:2.25,3,4,4.5,4.75,5,5.25,5.25,5.5,5.5,6 2.25:3,5.5
  2.5:2.25,2.25,2.25,2.25,2.5,2.75,3,3.25,3.25,4,4,4
  2.75:1.25,1.5,2.5,3,3,3.25,3.75,4.5,4.5,5,5,5.25,5.25,5.25,5.25,5.25
  3:2,3.25,3.5,3.75,4,4,4.25,4.25,4.25,4.75,4.75,4.75,5 3.25:1.25,1.75,2,2,2.75,3,3,3.5,3.5,4.25,4.5
  3.5:1.25,2.25,2.25,2.5,2.75,2.75,3,3.25,3.5,3.5,4,4,4.25,4.5,4.5 3.75:1.25,1.75,1.75,2,2.75,3,3,3,4,4.25,4.25
  4:1,1.5,1.5,2,2.25,2.75,3.5,3.75,3.75,4 4.25:1.25,1.5,1.5,2,2,2,2.25,2.5,2.5,2.5,3,3.5,3.5
  4.5:1,1.5,1.5,1.5,1.75,2.25,2.25,2.5,2.5,2.5,2.5,2.75,2.75,2.75,2.75,3,3,3,3.25,3.25
  4.75:1,1.5,1.5,1.5,1.75,1.75,2,2.25,2.75,3,3,3.25,3.25,3.25,3.25,3.25,3.25
  5:0.5,1.5,1.5,1.75,2,2.25,2.25,2.25,2.5,2.5,3,3,3
  5.25:0.25,0.25,0.75,0.75,0.75,1,1,1.25,1.25,1.5,1.5,1.5,1.5,2.25,2.25,2.5,2.5,2.75
  5.5:1,1,1,1.25,1.25,1.75,2,2.25,2.25,2.5 5.75:0.25,0.25,0.75,1,1.5,1.5,1.5,2,2,2.25
  6:0.5,0.75,0.75,0.75,1,1,1,1.25,1.25,1.5,1.5,1.75,1.75,1.75,2 6.25:0.75,1,1.25,1.75,1.75
  6.5:0.25,0.25,0.75,1,1.25,1.5 6.75:0.75,0.75,1,1.25,1.25,1.25 7:0.75 7.25:0.25`;
const children = `
  1:5.5 1.5:2.25 2.25:3 2.75:1 3:1.75 3.5:0.75 3.75:0.75,1,2.75,3,3.5,4.25 4:1 4.25:1.75 4.5:3.25 4.75:1,2.25
  5:0.5,0.75,1.5,2.5 5.25:0.25,1,1.5 5.5:0.5,1.5,2.5 5.75:1.75 6:0.5,1.25 6.25:0.5,1.25 6.5:0.75 6.75:0.5,0.75
  7:0.75 7.25:0.25`;

function lagsIn(text: string) {
  return text
    .trim()
    .split(/\s+/)
    .flatMap((year) => {
      const [infected, ...lagYears] = year.split(/[:,]/).map(Number);
      return lagYears.map((lag) => ({ lag, longest: LONGEST_YEARS - (infected ?? Number.NaN) }));
    });
}

test("the lags of Lagakos et al. give the reverse product limit of every tabulated lag", () => {
  const expected = typedTable(
    "statistics/ref/aids_right_truncated_cdf.csv",
    `
adult,x,G
1,0.25,0.004045203375
1,0.5,0.005200975768
1,0.75,0.012135610124
1,1,0.021237317718
1,1.25,0.031231349585
1,1.5,0.047556827777
1,1.75,0.057691889434
1,2,0.069397490189
1,2.25,0.089808516715
1,2.5,0.107079385315
1,2.75,0.12514096838
1,3,0.158406289088
1,3.25,0.182076194354
1,3.5,0.199625707063
1,3.75,0.213683855448
1,4,0.25099373497
1,4.25,0.286289728951
1,4.5,0.313995186591
1,4.75,0.343617374005
1,5,0.402105437666
1,5.25,0.488270888594
1,5.5,0.544073275862
1,5.75,0.584375
1,6,0.606018518519
1,6.25,0.641666666667
1,6.5,0.733333333333
1,6.75,0.8
1,7.25,1
0,0.25,0.024289125991
0,0.5,0.085011940968
0,0.75,0.15787931894
0,1,0.223662368498
0,1.25,0.25162016456
0,1.5,0.298798945415
0,1.75,0.348598769651
0,2.25,0.38961038961
0,2.5,0.4329004329
0,2.75,0.458365164248
0,3,0.519480519481
0,3.25,0.559440559441
0,3.5,0.606060606061
0,4.25,0.666666666667
0,5.5,1
`,
  );
  for (const [adult, typed, people] of [
    ["1", adults, 258],
    ["0", children, 37],
  ] as const) {
    const lags = lagsIn(typed);
    expect(lags).toHaveLength(people);
    const distribution = reverseProductLimit(lags);
    const rows = expected.filter((row) => row.adult === adult);
    expect(distribution.steps.map(({ lag }) => lag)).toEqual(rows.map((row) => numberIn(row, "x")));
    for (const row of rows) {
      const share = shareKnownAfter(distribution, numberIn(row, "x"))?.share ?? Number.NaN;
      expectWithinRelative(share, numberIn(row, "G"), 1e-9, `adult ${adult}, lag ${row.x}`);
    }
  }
});

const lags = [
  { lag: 2, longest: 3 },
  { lag: 5, longest: 40 },
  { lag: 9, longest: 30, count: 2 },
  { lag: 1, longest: 4 },
  { lag: 14, longest: 21 },
  { lag: 5, longest: 6 },
  { lag: 22, longest: 50 },
  { lag: 0, longest: 25 },
];

test("it is the Kaplan-Meier curve of time run backwards, variance and limits included", () => {
  // Reversed at 100: a life from 100 - longest to 100 - lag; entered a hair earlier, since longest counts as at risk.
  const lives = lags.flatMap(({ lag, longest, count = 1 }) =>
    Array.from({ length: count }, (): Life => [100 - longest - 1e-6, 100 - lag, 1]),
  );
  const { steps } = kaplanMeier(countLives(lives));
  const distribution = reverseProductLimit(lags);
  for (const [i, step] of steps.entries()) {
    // The curve steps at a lag; the share known stands still until the lag below it.
    const below = distribution.steps.at(-2 - i);
    expect(distribution.steps.at(-1 - i)?.atRisk).toBe(step.atRisk);
    if (below === undefined) continue;
    expectWithinRelative(below.share, step.survival, 1e-12, "share");
    expectWithinRelative(below.standardError, step.standardError, 1e-12, "standard error");
    if (step.survival === 0) continue;
    expectWithinRelative(below.lower, step.lower, 1e-12, "lower");
    expectWithinRelative(below.upper, step.upper, 1e-12, "upper");
  }
});

test("a lag at which nobody else was old enough is named as exhausting the risk set", () => {
  const distribution = reverseProductLimit([
    { lag: 10, longest: 12 },
    { lag: 1, longest: 2 },
    { lag: 2, longest: 3 },
  ]);
  expect(distribution.exhaustedAtLag).toBe(10);
  expect(shareKnownAfter(distribution, 2)).toEqual({ share: 0, standardError: 0, lower: 0, upper: 1 });
  expect(reverseProductLimit(lags).exhaustedAtLag).toBeNull();
});

test("shares run from 0 below the shortest lag to 1 at the longest one, and quantiles follow", () => {
  const distribution = reverseProductLimit(lags);
  expect(shareKnownAfter(distribution, -1)?.share).toBe(0);
  expect(shareKnownAfter(distribution, 22)).toEqual({ share: 1, standardError: 0, lower: 1, upper: 1 });
  expect(shareKnownAfter(distribution, 1000)?.share).toBe(1);
  expect(lagQuantile(distribution, 1)).toBe(22);
  expect(distribution).toMatchObject({ count: 9, longestLag: 22, longestObservable: 50 });
});

test("no lags give an empty distribution and no share", () => {
  const distribution = reverseProductLimit([]);
  expect(distribution.steps).toEqual([]);
  expect(shareKnownAfter(distribution, 3)).toBeNull();
  expect(lagQuantile(distribution, 0.5)).toBeNull();
});

test("a lag longer than could have been seen is refused", () => {
  expect(() => reverseProductLimit([{ lag: 5, longest: 4 }])).toThrow(RangeError);
  expect(() => reverseProductLimit([{ lag: -1, longest: 4 }])).toThrow(RangeError);
});
