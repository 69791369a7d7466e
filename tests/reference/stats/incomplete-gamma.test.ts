import { expect, test } from "vitest";
import { gammaQuantile, gammaTails } from "@/lib/stats/incomplete-gamma";
import { logPoissonDensity } from "@/lib/stats/poisson-density";
import { expectWithinRelative } from "@/tests/support/within-relative";

// R 4.2.2: pgamma(x, shape), pgamma(x, shape, lower.tail = FALSE), printed to 15 digits. The first three lie where
// @stdlib/math-base-special-gammainc 0.3.1 is wrong by up to a third.
const below = [
  [1013.712, 1052.829, 0.113041427740037],
  [1540.04, 1589.75, 0.105356944252836],
  [2500, 2600, 0.0238334758465768],
  [0.2, 3, 0.00114848124486213],
  [1e6 + 3000, 1e6, 0.998638259353782],
] as const;
const above = [
  [1013.712, 1052.829, 0.886958572259963],
  [1540.04, 1589.75, 0.894643055747164],
  [30, 3, 4.50101664801212e-11],
  [60, 3, 1.62958665293782e-23],
  [1e6 + 3000, 1e6, 1.36174064621759e-3],
] as const;

test("both tails of the gamma distribution agree with pgamma", () => {
  for (const [x, shape, value] of below)
    expectWithinRelative(gammaTails(shape, x).below, value, 1e-12, `${x} ${shape}`);
  for (const [x, shape, value] of above)
    expectWithinRelative(gammaTails(shape, x).above, value, 1e-12, `${x} ${shape}`);
});

// R 4.2.2: qgamma(level, shape).
const quantiles = [
  [1e-9, 0.3, 6.97269909640938e-31],
  [0.025, 1e6, 998040.983340294],
  [0.975, 2e3, 2.08859552814309e3],
  [0.3, 1500, 1.47945092826744e3],
  [1e-4, 0.05, 5.84463205728684e-81],
] as const;

test("quantiles of the gamma distribution agree with qgamma from tiny to huge shapes", () => {
  for (const [level, shape, value] of quantiles) {
    expectWithinRelative(gammaQuantile(shape, level), value, 1e-13, `level ${level}, shape ${shape}`);
  }
});

test("a quantile asked from above is the one asked from below at one minus the level", () => {
  for (const shape of [0.5, 3, 40, 2500]) {
    expectWithinRelative(gammaQuantile(shape, 0.025, "above"), gammaQuantile(shape, 0.975), 1e-13);
    expect(gammaQuantile(shape, 0)).toBe(0);
    expect(gammaQuantile(shape, 1)).toBe(Number.POSITIVE_INFINITY);
  }
});

test("the Poisson density keeps its digits at counts of a million", () => {
  // R 4.2.2: dpois(1e6, 1e6 + 500, log = TRUE), dpois(20, 15, log = TRUE).
  expectWithinRelative(logPoissonDensity(1e6, 1e6 + 500), -7.95165224447223, 1e-13);
  expectWithinRelative(logPoissonDensity(20, 15), -3.17461243870928, 1e-13);
  expect(logPoissonDensity(0, 0)).toBe(0);
  expect(logPoissonDensity(3, 0)).toBe(Number.NEGATIVE_INFINITY);
});

test("what lies outside the domain is refused", () => {
  expect(() => gammaTails(0, 1)).toThrow(RangeError);
  expect(() => gammaTails(1, -1)).toThrow(RangeError);
  expect(() => gammaQuantile(1, 1.5)).toThrow(RangeError);
});
