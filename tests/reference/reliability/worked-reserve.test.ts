import { expect, test } from "vitest";
import { foretoldCost } from "@/lib/reliability/cost-forecast";
import type { CoverBasis } from "@/lib/reliability/cover-basis";
import { coverReserve } from "@/lib/reliability/cover-reserve";
import type { KnownCost } from "@/lib/reliability/failure-cost";
import { expectWithinRelative } from "@/tests/support/within-relative";

// 1,200 packs under cover in three ages, a Weibull law with doubt about it, and two remedies, worked out once more in R 4.2.2 by
// other means: the law over a grid of 111 x 111 points of its normal doubt, for each the exact sum of three binomial numbers
// (dbinom, convolved), and the cost by inversion of fft() over 65,536 points 5 apart, gamma amounts rounded to them (pgamma).
const basis: CoverBasis = {
  failures: 30,
  law: {
    shape: 1.5,
    scale: 3200,
    largestAge: 800,
    doubt: { varianceMu: 0.04, varianceLogSigma: 0.03, covariance: 0.02 },
  },
  running: [
    { ageDays: 100, coverLeftDays: 630, packs: 400 },
    { ageDays: 300, coverLeftDays: 430, packs: 500 },
    { ageDays: 600, coverLeftDays: 130, packs: 300 },
  ],
  hidden: [],
};
const inR = { expected: 86.0801878011, mean: 88.5563949, counts: [44, 143] };

const cost = (relativeError: number): KnownCost => ({
  kind: "cost",
  of: "A",
  afterCover: 0,
  currency: "EUR",
  mean: 524,
  spread: 0,
  lower: 0,
  upper: 0,
  relativeError,
  decided: 30,
  amounts: [
    { share: 0.6, mean: 240, spread: 120 },
    { share: 0.4, mean: 950, spread: 300 },
  ],
  lines: [],
  beside: { kind: "unknown", sentences: [], returns: 0, ratio: 0, lower: 0, upper: 0 },
});

function reserve() {
  const found = coverReserve(basis);
  if (found.kind === "refused") throw new Error(found.reason);
  return found;
}

test("the number of failures in a reserve, and its limits with the doubt about the law, are those of R", () => {
  const { expected, lower, upper, distribution } = reserve();
  expectWithinRelative(expected, inR.expected, 1e-10, "expected at the law as fitted");
  const mean = distribution.reduce((sum, share, count) => sum + share * count, 0);
  expectWithinRelative(mean, inR.mean, 0.002, "mean with the doubt");
  for (const [i, limit] of [lower, upper].entries()) {
    expect(Math.abs(limit - (inR.counts[i] ?? Number.NaN)), `limit ${i}`).toBeLessThanOrEqual(1);
  }
});

test.each([
  [0, [22_200, 75_990]],
  [0.1, [21_558.39, 78_566.83]],
])(
  "the limits of its cost, with an error of the mean of %s in common, are those of R",
  (relativeError, [low, high]) => {
    const told = foretoldCost(reserve(), cost(relativeError));
    expectWithinRelative(told?.expected ?? 0, inR.expected * 524, 1e-9, "expected cost");
    expectWithinRelative(told?.lower ?? 0, low ?? 0, 0.01, "lower limit");
    expectWithinRelative(told?.upper ?? 0, high ?? 0, 0.01, "upper limit");
  },
);
