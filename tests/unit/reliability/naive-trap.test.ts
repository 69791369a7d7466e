import { expect, test } from "vitest";
import { compareAtEqualAge } from "@/lib/reliability/compare-at-equal-age";
import { naiveTrapSentence } from "@/lib/reliability/naive-trap";
import { comparable, estimateAt } from "@/tests/support/estimates";

const naive = (returns: number, dispatched: number) => ({
  returns,
  dispatched,
  ratio: dispatched === 0 ? null : returns / dispatched,
});
const counted = (returns: number) => [
  { group: "A", naive: naive(60, 1000) },
  { group: "B", naive: naive(returns, 1000) },
];
const apart = compareAtEqualAge([
  comparable("A", [estimateAt(6, 0.01, 0.006, 0.016)]),
  comparable("B", [estimateAt(6, 0.04, 0.025, 0.06)]),
]);

test("a pair that the ratio puts the wrong way round is the example", () => {
  expect(naiveTrapSentence(counted(20), apart)).toBe(
    "By that ratio B (2 in 100) looks better than A (6 in 100), because " +
      "its packs are younger. By 6 months in use it is the other way round: 4 in 100 against 1 in 100.",
  );
});

test("where the limits overlap the sentence says so", () => {
  const overlapping = compareAtEqualAge([
    comparable("A", [estimateAt(6, 0.01, 0.006, 0.03)]),
    comparable("B", [estimateAt(6, 0.04, 0.025, 0.06)]),
  ]);
  expect(naiveTrapSentence(counted(20), overlapping)).toMatch(/against 1 in 100, although their limits overlap\.$/);
});

test("without such a pair the sentence gives the reason alone", () => {
  expect(naiveTrapSentence(counted(90), apart)).toMatch(/whatever is youngest looks best\.$/);
  expect(naiveTrapSentence([], [])).toMatch(/whatever is youngest looks best\.$/);
});

test("a revision of which nothing was dispatched is no example", () => {
  const none = [...counted(20).slice(0, 1), { group: "B", naive: naive(0, 0) }];
  expect(naiveTrapSentence(none, apart)).toMatch(/whatever is youngest looks best\.$/);
});
