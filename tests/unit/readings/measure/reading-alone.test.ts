import { expect, test } from "vitest";
import { isReadingAlone } from "@/lib/readings/measure/reading-alone";

const alike = [-0.01, -0.004, 0, 0.002, 0.006, 0.01, -0.002, 0.004];

/** Fitted as a shifted reading that leaves a third of what a charge leaves, with such a capacity besides. */
function withShortfall(shortfall: number, shortfalls: readonly number[] = alike): boolean {
  const fitted = (misfit: number) => ({ offsetPercent: { estimate: 0.5 }, shortfall: { estimate: shortfall }, misfit });
  return isReadingAlone(fitted(0.1), fitted(0.3), shortfalls);
}

test("a reading that is off says nothing of what its group holds: a shift beside a capacity no other group has is a charge", () => {
  expect(withShortfall(0.01)).toBe(true);
  expect(withShortfall(-0.074)).toBe(false);
  expect(withShortfall(0.074)).toBe(false);
});

test("where the capacities of a pack lie apart, so may that of the group whose reading is off", () => {
  expect(withShortfall(-0.074, [-0.06, -0.03, 0, 0.03, 0.06, 0.02, -0.02, 0.04])).toBe(true);
});
