import { expect, test } from "vitest";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { lagQuantile, reverseProductLimit, shareKnownAfter } from "@/lib/stats/reverse-product-limit";
import { numberIn, readCheckTable } from "@/tests/support/check-table";
import { countLives, type Life } from "@/tests/support/lives";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Lagakos, Barraj & De Gruttola, Biometrika 75 (1988) 515-523: years from infection to AIDS, all infected less than
// 8 years before the data date. R package KMsurv, `aids`; the product worked out directly in R 4.2.2.
const LONGEST_YEARS = 8;

test("the lags of Lagakos et al. give the reverse product limit of every tabulated lag", ({ skip }) => {
  const lags = readCheckTable("statistics/data/aids_right_truncated_lagakos.csv");
  const expected = readCheckTable("statistics/ref/aids_right_truncated_cdf.csv");
  if (lags === null || expected === null) return skip("open data not present on this machine");
  for (const adult of ["1", "0"]) {
    const distribution = reverseProductLimit(
      lags
        .filter((row) => row.adult === adult)
        .map((row) => ({ lag: numberIn(row, "induct"), longest: LONGEST_YEARS - numberIn(row, "infect") })),
    );
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
