import { expect, test } from "vitest";
import { exactAgainstOthers } from "@/lib/stats/exact-against-others";
import { fisherExact } from "@/lib/stats/fisher-exact";
import { logRank } from "@/lib/stats/log-rank";
import { riskSets } from "@/lib/stats/risk-sets";
import { countLives, type Life } from "@/tests/support/lives";

/** Risk sets of single failures, in each of which the first group has the share given. */
const singles = (share: number, failures: number, its: number) => [
  Array.from({ length: failures }, (_, i) => {
    const failed = i < its ? [1, 0] : [0, 1];
    return { age: i + 1, atRisk: [share * 1e4, (1 - share) * 1e4], failed };
  }),
];

// scipy 1.10.1: 2 * (binom.sf(its - 1, failures, share) - binom.pmf(its, failures, share) / 2).
test.each([
  [0.0005, 100, 1, 0.049980271],
  [0.002, 100, 2, 0.018510855],
  [0.01, 100, 5, 0.003966856],
])("with share %d of %d failures, %d of its own have the binomial mid-p", (share, failures, its, p) => {
  expect(exactAgainstOthers(singles(share, failures, its), 2)[0]).toBeCloseTo(p, 7);
});

// R 4.2.2, the same from pbinom and dbinom, to ten digits: what is rare beyond all telling apart still has its order.
test.each([
  [0.1, 4000, 620, 2.545451042e-27],
  [0.1, 4000, 250, 3.62865042636e-17],
  [0.1, 4000, 405, 0.78719793955],
  [0.1, 400, 0, 4.977414122938e-19],
  [0.9, 300, 300, 1.873927703885e-14],
])("with share %d of %d failures, %d of its own have their mid-p far out in either tail", (share, failures, its, p) => {
  expect((exactAgainstOthers(singles(share, failures, its), 2)[0] ?? 0) / p).toBeCloseTo(1, 9);
});

test("failures of one day are those of a fourfold table", () => {
  const sets = [[{ age: 9, atRisk: [120, 130], failed: [3, 12] }]];
  const table = fisherExact({ first: [3, 117], second: [12, 118] }, "mid-p");
  expect(exactAgainstOthers(sets, 2)[0]).toBeCloseTo(table.p, 10);
  // R 4.2.2: doubled one-sided mid-p of 3, 117 / 12, 118.
  expect(table.p).toBeCloseTo(0.026695021, 8);
});

test("with many failures it agrees with the log-rank test", () => {
  const group = (failsBefore: number): Life[] =>
    Array.from({ length: 400 }, (_, i): Life => [0, 1 + ((i * 37) % 400), (i * 53) % 400 < failsBefore ? 1 : 0]);
  const groups = [countLives(group(200)), countLives(group(160)), countLives(group(160))];
  const normal = logRank(groups);
  if (normal.kind !== "test") throw new Error("the groups can be compared");
  const exact = exactAgainstOthers([riskSets(groups)], 3);
  for (const [g, { pAgainstOthers }] of normal.groups.entries())
    expect(Math.abs((exact[g] ?? 0) - (pAgainstOthers ?? 1))).toBeLessThan(0.01);
});

test("a group that shares no failure age with another has no p", () => {
  expect(exactAgainstOthers([[{ age: 3, atRisk: [5, 0], failed: [1, 0] }]], 2)).toEqual([null, null]);
});
