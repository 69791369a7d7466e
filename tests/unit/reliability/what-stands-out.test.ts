import { expect, test } from "vitest";
import { whatStandsOut } from "@/lib/reliability/what-stands-out";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { comparable, estimateAt, notYetAt } from "@/tests/support/estimates";
import { countLives, type Life } from "@/tests/support/lives";

const sound = comparable("A", [estimateAt(6, 0.01, 0.006, 0.016)]);
const worse = comparable("B", [estimateAt(6, 0.04, 0.025, 0.06)], { current: true });

test("a revision whose limits lie above those of another is named with both shares, limits and counts", () => {
  const answer = whatStandsOut([sound, worse]);
  expect(answer.kind).toBe("stands-out");
  expect(answer.headline).toBe(
    "Revision B of Model M, which is built today, fails more than A at equal age: by 6 months in use about 4 in 100 " +
      "(95 % limits between 2.5 and 6 in 100; 12 failures, 400 packs at risk), against 1 in 100 " +
      "(95 % limits between 0.6 and 1.6 in 100; 12 failures, 400 packs at risk) of A.",
  );
  expect(answer.howLooked).toBe(
    "One pair of revisions was looked at, at the oldest age at which both can be told (6 months).",
  );
});

test("overlapping limits claim nothing", () => {
  const answer = whatStandsOut([sound, comparable("B", [estimateAt(6, 0.03, 0.015, 0.05)])]);
  expect(answer.kind).toBe("limits-overlap");
  expect(answer.headline).toContain("may be chance");
});

test("without two revisions that can be set side by side it cannot be told yet", () => {
  const answer = whatStandsOut([sound, comparable("B", [notYetAt(6)])]);
  expect(answer.kind).toBe("cannot-tell");
  expect(answer.howLooked).toBe("No comparison could be made.");
});

test("no revision at all cannot be told either", () => {
  expect(whatStandsOut([]).kind).toBe("cannot-tell");
});

test("the number of comparisons is said, with the ages", () => {
  const third = comparable("C", [estimateAt(6, 0.02, 0.01, 0.03), estimateAt(12, 0.03, 0.02, 0.04)]);
  const fourth = comparable("D", [estimateAt(6, 0.02, 0.01, 0.03), estimateAt(12, 0.03, 0.02, 0.04)]);
  expect(whatStandsOut([sound, third, fourth]).howLooked).toBe(
    "3 pairs of revisions were looked at, each pair once, at the oldest age at which both can be told (6 or 12 months).",
  );
});

test("a revision built today comes before an older one with a wider gap", () => {
  const worst = comparable("C", [estimateAt(6, 0.2, 0.15, 0.25)]);
  const answer = whatStandsOut([sound, worst, worse]);
  expect(answer.kind === "stands-out" && answer.worse.map(({ higher }) => higher.group)).toEqual(["B", "C"]);
});

/** `failures` lives that end in failure at ages 10, 11, …, and sound ones watched to age 200. */
function curveOf(failures: number, soundPacks: number) {
  const lives: Life[] = [
    ...Array.from({ length: failures }, (_, i): Life => [0, 10 + i, 1]),
    ...Array.from({ length: soundPacks }, (): Life => [0, 200, 0]),
  ];
  return kaplanMeier(countLives(lives));
}

test("failures above what age explains are pointed to although the limits at one age overlap", () => {
  const few = comparable("A", [estimateAt(6, 0.01, 0.005, 0.02)], { curve: curveOf(4, 396) });
  const many = comparable("B", [estimateAt(6, 0.03, 0.015, 0.05)], { curve: curveOf(20, 380), current: true });
  const answer = whatStandsOut([few, many]);
  expect(answer.kind).toBe("points-to");
  // 24 failures at equal ages among 400 and 400 packs: if alike, about half of them fall to each.
  expect(answer.headline).toMatch(
    /^Revision B of Model M, which is built today, has failed more often than its age explains: 20 failures, where 1[12]\.\d were to be expected\.$/,
  );
  expect(answer.kind === "points-to" && answer.atOneAge).toMatch(
    /^By 6 months in use about 3 in 100 .*, against 1 in 100 .* of A; at that age alone the limits still overlap\.$/,
  );
});

test("equal lives point to nobody", () => {
  const one = comparable("A", [estimateAt(6, 0.02, 0.01, 0.04)], { curve: curveOf(8, 392) });
  const other = comparable("B", [estimateAt(6, 0.02, 0.01, 0.04)], { curve: curveOf(8, 392) });
  expect(whatStandsOut([one, other]).kind).toBe("limits-overlap");
});
