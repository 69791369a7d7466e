import { expect, test } from "vitest";
import { isReadingAlone } from "@/lib/readings/measure/reading-alone";

const alike = [-0.01, -0.004, 0, 0.002, 0.006, 0.01, -0.002, 0.004];

const fitted = (misfit: number, shortfall = 0) => ({
  offsetPercent: { estimate: 0.5 },
  shortfall: { estimate: shortfall },
  misfit,
});

/** Fitted as a shifted reading that leaves a third of what a charge leaves, with such a capacity besides. */
function withShortfall(shortfall: number, shortfalls: readonly number[] = alike): boolean {
  return isReadingAlone(fitted(0.1, shortfall), fitted(0.3, shortfall), shortfalls, 0.1);
}

test("a reading that is off says nothing of what its group holds: a shift beside a capacity no other group has is a charge", () => {
  expect(withShortfall(0.01)).toBe(true);
  expect(withShortfall(-0.074)).toBe(false);
  expect(withShortfall(0.074)).toBe(false);
});

test("where the capacities of a pack lie apart, so may that of the group whose reading is off", () => {
  expect(withShortfall(-0.074, [-0.06, -0.03, 0, 0.03, 0.06, 0.02, -0.02, 0.04])).toBe(true);
});

// Packs 241/757 and 239/809, imbalances on the straight part of a curve: a shift left 0.41 of what the charge left, and 2.7 and 3.6 times the usual.
test("a shift leaves what the usual group leaves, or wins by far: what follows nothing leaves nothing", () => {
  expect(isReadingAlone(fitted(0.48), fitted(1.17), alike, 0.18)).toBe(false);
  expect(isReadingAlone(fitted(0.94), fitted(2.23), alike, 0.26)).toBe(false);
  expect(isReadingAlone(fitted(0.2), fitted(0.48), alike, 0.18)).toBe(true);
  expect(isReadingAlone(fitted(0.94), fitted(9.4), alike, 0.26)).toBe(true);
});
