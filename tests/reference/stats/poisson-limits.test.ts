import { expect, test } from "vitest";
import { byarLimits, poissonLimits, poissonMidPLimits, poissonRate } from "@/lib/stats/poisson-limits";
import { numberIn, readCheckTable } from "@/tests/support/check-table";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Garwood, Biometrika 28 (1936) 437-442, 95 % two-sided; more digits by R 4.2.2, qgamma.
const garwood = [
  [0, 0, 3.688879454],
  [1, 0.025317808, 5.57164339],
  [2, 0.242209279, 7.224687667],
  [3, 0.618672123, 8.767273],
  [5, 1.62348639, 11.668332],
  [7, 2.814363052, 14.422675362],
  [10, 4.795388696, 18.390356],
  [20, 12.216519585, 30.888378],
  [100, 81.363991251, 121.626794],
] as const;

test("exact limits of a count agree with Garwood's table", () => {
  for (const [count, lower, upper] of garwood) {
    const limits = poissonLimits(count);
    expectWithinRelative(limits.lower, lower, 1e-7, `lower at ${count}`);
    expectWithinRelative(limits.upper, upper, 1e-7, `upper at ${count}`);
  }
});

test("exact, mid-p and Byar limits agree with R for counts from 0 to 1000", ({ skip }) => {
  // R 4.2.2: qgamma, uniroot on ppois and dpois, and the cube formula, to 10 significant digits.
  const rows = readCheckTable("statistics/ref/poisson_garwood.csv");
  if (rows === null) return skip("open data not present on this machine");
  expect(rows.length).toBeGreaterThan(30);
  for (const row of rows) {
    const count = numberIn(row, "x");
    for (const [percent, confidence] of [
      [95, 0.95],
      [90, 0.9],
      [99, 0.99],
    ] as const) {
      const { lower, upper } = poissonLimits(count, confidence);
      expectWithinRelative(lower, numberIn(row, `lo${percent}`), 1e-9, `lower ${percent} at ${count}`);
      expectWithinRelative(upper, numberIn(row, `hi${percent}`), 1e-9, `upper ${percent} at ${count}`);
    }
    const midP = poissonMidPLimits(count);
    // The reference stops its search at an absolute 1e-12 in bisection-like steps.
    expectWithinRelative(midP.lower, numberIn(row, "midp_lo95"), 1e-8, `mid-p lower at ${count}`);
    expectWithinRelative(midP.upper, numberIn(row, "midp_hi95"), 1e-8, `mid-p upper at ${count}`);
    const byar = byarLimits(count);
    expectWithinRelative(byar.lower, numberIn(row, "byar_lo95"), 1e-9, `Byar lower at ${count}`);
    expectWithinRelative(byar.upper, numberIn(row, "byar_hi95"), 1e-9, `Byar upper at ${count}`);
  }
});

test("without an event the two-sided upper limit is 3.69 and the one-sided 3.00", () => {
  // Both follow from exp(-m) = 0.025 and 0.05.
  expectWithinRelative(poissonLimits(0).upper, -Math.log(0.025), 1e-14);
  expectWithinRelative(poissonLimits(0, 0.9).upper, -Math.log(0.05), 1e-14);
});

test("a rate carries its limits, its count and its exposure", () => {
  const rate = poissonRate(10, 400);
  expect(rate).toMatchObject({ rate: 0.025, count: 10, exposure: 400 });
  expectWithinRelative(rate.upper, 18.390356 / 400, 1e-7);
  expect(() => poissonRate(1, 0)).toThrow(RangeError);
  expect(() => poissonLimits(1.5)).toThrow(RangeError);
});
