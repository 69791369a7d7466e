import { expect, test } from "vitest";
import { compareAtEqualAge } from "@/lib/reliability/compare-at-equal-age";
import { comparable, estimateAt, notYetAt } from "@/tests/support/estimates";

const old = comparable("A", [estimateAt(6, 0.01, 0.006, 0.016), estimateAt(12, 0.02, 0.014, 0.028)]);
const young = comparable("B", [estimateAt(6, 0.04, 0.025, 0.06), notYetAt(12)]);

test("a pair is compared once, at the oldest age at which both can be told", () => {
  const [only, ...others] = compareAtEqualAge([old, young]);
  expect(others).toEqual([]);
  expect(only).toMatchObject({ months: 6, higher: { group: "B" }, lower: { group: "A" }, apart: true });
});

test("the order in which revisions come does not matter to which is higher", () => {
  expect(compareAtEqualAge([young, old])[0]?.higher.group).toBe("B");
});

test("limits that touch are not apart", () => {
  const touching = comparable("B", [estimateAt(6, 0.03, 0.016, 0.05)]);
  expect(compareAtEqualAge([old, touching])[0]?.apart).toBe(false);
});

test("revisions of two models are never compared", () => {
  expect(compareAtEqualAge([old, { ...young, modelName: "Model N" }])).toEqual([]);
});

test("a pair without a shared age at which both can be told is left out", () => {
  const onlyYear = comparable("C", [notYetAt(6), estimateAt(12, 0.05, 0.03, 0.08)]);
  expect(compareAtEqualAge([young, onlyYear])).toEqual([]);
});

test("three revisions of a model give three comparisons", () => {
  const third = comparable("C", [estimateAt(6, 0.02, 0.01, 0.03)]);
  expect(compareAtEqualAge([old, young, third])).toHaveLength(3);
});
