import { expect, test } from "vitest";
import { type Draw, exactAgainstOthers, exactRatioLimits } from "@/lib/stats/exact-against-others";
import { fisherExact } from "@/lib/stats/fisher-exact";
import { hazardRatioOfRiskSets } from "@/lib/stats/hazard-ratio";
import { logRank } from "@/lib/stats/log-rank";
import { riskSets } from "@/lib/stats/risk-sets";
import { countLives, type Life } from "@/tests/support/lives";
import { seededRandom } from "@/tests/support/seeded-random";

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

const drawsOf = (share: number, failures: number, its: number) =>
  Array.from(
    { length: failures },
    (_, i): Draw => ({ own: share * 1e4, all: 1e4, ties: 1, ownFailed: i < its ? 1 : 0 }),
  );

// R 4.2.2: uniroot on the mid-p tails of dhyper(k, own, others, ties) * ratio^k, made to sum to 1.
test.each([
  ["none of 22 where two are expected", Array.from({ length: 22 }, (_, i) => [90, 968 - i, 1, 0]), 0, 1.40601477359],
  ["3 of 20, with a twentieth at risk", drawsOf(0.05, 20, 3), 0.783831122269, 10.5080248304],
  ["62 of 400, with a tenth at risk", drawsOf(0.1, 400, 62), 1.25050261776, 2.15219432503],
  ["3 of 120 against 12 of 130 on one day", [[120, 250, 15, 3]], 0.0560563815214, 0.866130351337],
  ["all failures of one of ten", [[100, 1000, 1, 1]], 9 / 19, null],
] as const)("limits of the ratio, %s, are those of the conditional distribution", (_, given, lower, upper) => {
  const draws = given.map((one) =>
    "own" in one ? one : { own: one[0] ?? 0, all: one[1] ?? 0, ties: one[2] ?? 0, ownFailed: one[3] ?? 0 },
  );
  const limits = exactRatioLimits(draws, 0.95);
  expect(limits.lower).toBeCloseTo(lower, 9);
  if (upper === null) expect(limits.upper).toBeNull();
  else expect(limits.upper).toBeCloseTo(upper, 8);
});

const ratios = [0.5, 1, 2, 4];
/** Of the group, were its hazard the ratio asked. */
const expectedFailures = [0.5, 1, 1.5, 2, 2.35, 3, 4, 5, 7, 10, 14, 20];
const shares = [0.05, 0.3];

/** Each number of failures the group may have, with its chance. */
function* countsOf(share: number, ratio: number, expected: number) {
  const chance = (share * ratio) / (share * ratio + 1 - share);
  const failures = Math.round(expected / chance);
  let likely = (1 - chance) ** failures;
  for (let its = 0; its <= failures; its++) {
    if (likely > 1e-9) yield { failures, its, likely };
    likely *= ((failures - its) * chance) / ((its + 1) * (1 - chance));
  }
}

test("the limits hold a ratio of 1 where p is not below 0.05, and nowhere else", () => {
  for (const share of shares)
    for (const ratio of ratios)
      for (const expected of expectedFailures)
        for (const { failures, its } of countsOf(share, ratio, expected)) {
          const { lower, upper } = exactRatioLimits(drawsOf(share, failures, its), 0.95);
          const p = exactAgainstOthers(singles(share, failures, its), 2)[0] ?? Number.NaN;
          const told = `${its} of ${failures} at ${share}: p ${p}, limits ${lower} to ${upper}`;
          expect(lower <= 1 && 1 <= (upper ?? Number.POSITIVE_INFINITY), told).toBe(p >= 0.05);
        }
});

test("of tied and weighed failures too, and the estimate lies within", () => {
  const random = seededRandom(4);
  for (let fleet = 0; fleet < 300; fleet++) {
    const isWeighed = fleet % 3 === 0;
    const sets = Array.from({ length: 1 + Math.floor(12 * random()) }, (_, i) => {
      const [own, others] = [4 + Math.floor(40 * random()), 4 + Math.floor(200 * random())];
      const failed = [Math.floor(2.5 * random() ** 2), Math.floor(4 * random())];
      return { age: i + 1, atRisk: isWeighed ? [own * random() + 3, others * random() + 4] : [own, others], failed };
    }).filter(({ failed }) => failed.some((count) => count > 0));
    const p = exactAgainstOthers([sets], 2)[0] ?? null;
    const result = hazardRatioOfRiskSets([sets], 0);
    if (p === null || result.kind !== "estimate") continue;
    const upper = result.upper ?? Number.POSITIVE_INFINITY;
    expect(result.lower <= 1 && 1 <= upper, `p ${p}, ${result.lower} to ${upper}`).toBe(p >= 0.05);
    expect(result.ratio ?? Number.MAX_VALUE).toBeGreaterThanOrEqual(result.lower);
    expect(result.ratio ?? 0).toBeLessThanOrEqual(upper);
  }
});

test("with half a failure to 20 expected the limits hold the ratio at least 91.5 times in 100, and 95 on average", () => {
  const held = shares.flatMap((share) =>
    ratios.flatMap((ratio) =>
      expectedFailures.map((expected) => {
        let chance = 0;
        for (const { failures, its, likely } of countsOf(share, ratio, expected)) {
          const { lower, upper } = exactRatioLimits(drawsOf(share, failures, its), 0.95);
          if (lower <= ratio && ratio <= (upper ?? Number.POSITIVE_INFINITY)) chance += likely;
        }
        return chance;
      }),
    ),
  );
  // Exact sums, no simulation. Those by likelihood ratio hold 85 times in 100 where two are expected at ratio 1.
  expect(Math.min(...held)).toBeGreaterThan(0.915);
  expect(held.reduce((sum, one) => sum + one, 0) / held.length).toBeGreaterThan(0.95);
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
