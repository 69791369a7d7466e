import { expect } from "vitest";

/** Asserts |actual - expected| <= tolerance * |expected|; a plain tolerance where the expected value is 0. */
export function expectWithinRelative(actual: number, expected: number, tolerance: number, what = "value"): void {
  const scale = expected === 0 ? 1 : Math.abs(expected);
  expect(Math.abs(actual - expected) / scale, `${what}: got ${actual}, expected ${expected}`).toBeLessThanOrEqual(
    tolerance,
  );
}
