import { expect, test } from "vitest";
import { coverBasis, type RunningCell } from "@/lib/reliability/cover-basis";
import { forecastGroup, foretell } from "@/lib/reliability/cover-forecast";
import { keptBasisSchema } from "@/lib/reliability/kept-forecast.schema";
import { lentCounts } from "@/lib/reliability/lent-law";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { daysAtMonths } from "@/lib/reliability/months-in-service";
import { knownAtOnce } from "@/lib/reliability/reporting-lag";
import { countQuantile } from "@/lib/stats/binomial-mixture";
import { binomialAtMost } from "@/lib/stats/binomial-tails";
import { seededRandom } from "@/tests/support/seeded-random";

const SHAPE = 1.5;
const SCALE_DAYS = 3000;
const life = { line: "confirmed", stratum: "M", dispatched: true, entryDays: 0, slackDays: 92, detail: null } as const;

/** Packs sold one by one over so many days, the oldest of this age, each with its age at failure by the law. */
function soldOver(random: () => number, packs: number, oldestDays: number, timesAsOften = 1) {
  return Array.from({ length: packs }, (_, i) => ({
    ageDays: Math.ceil((oldestDays * (packs - i)) / packs),
    failsAt: SCALE_DAYS * (-Math.log(1 - random()) / timesAsOften) ** (1 / SHAPE),
  }));
}

function cellsOf(group: string, sold: ReturnType<typeof soldOver>): LifeCell[] {
  return sold.map(({ ageDays, failsAt }) => {
    const failed = failsAt <= ageDays;
    const exitDays = failed ? Math.max(1, Math.ceil(failsAt)) : ageDays;
    return { ...life, group, exitDays, status: failed ? "failed" : "running", packs: 1 };
  });
}

test("known shape: the number to come is the negative binomial that a gamma rate makes of a Poisson count", () => {
  // 2 failures in 8 units of time, 6 units ahead; with half a failure more the rate is gamma(2.5) over 8.
  const lent = { failures: 2, ofLenders: 1000, points: [{ shape: 1, weight: 1, exposure: 8 }] };
  const packs = 10_000;
  const counts = lentCounts({ lent, largestAge: 1 }, packs, ({ scale }) => {
    const chance = 6 / scale / packs;
    return { sum: packs * chance, sumOfSquares: packs * chance * chance };
  });
  // R 4.2.2: dnbinom(0:3, size = 2.5, prob = 8 / 14), and qnbinom(c(0.025, 0.5, 0.975), ...) gives 0, 1, 6.
  for (const [k, density] of [0.2468339416, 0.2644649374, 0.198348703, 0.1275098805].entries())
    expect(counts[k]).toBeCloseTo(density, 3);
  expect([0.025, 0.5, 0.975].map((level) => countQuantile(counts, level))).toEqual([0, 1, 6]);
});

// In 1,000 fleets each of the same kind: alike, 971 of 998 held what came and 906 were expected where 927 came; twice as often, 932 of the
// 973 with fewer than five failures, and 1,392 were expected where 1,791 came.
/** How often the limits hold what comes of a young revision in the next three months, and both sums. */
function forecastsOfYoung(timesAsOften: number, fleets: number) {
  const random = seededRandom(77);
  let [held, expectedSum, cameSum, lentLaws] = [0, 0, 0, 0];
  for (let fleet = 0; fleet < fleets; fleet++) {
    const likes = ["B", "C"].flatMap((group) => cellsOf(group, soldOver(random, 600, 600)));
    const young = soldOver(random, 150, 180, timesAsOften);
    const inUse = young.filter(({ ageDays, failsAt }) => failsAt > ageDays);
    const running = inUse.map(({ ageDays }): RunningCell => ({ ageDays, coverLeftDays: 700, packs: 1 }));
    const basis = coverBasis(cellsOf("A", young), running, knownAtOnce, 0, "confirmed", likes);
    const ahead = foretell(basis, daysAtMonths(3));
    if (ahead.kind !== "forecast" || "refused" in basis.law || !basis.law.lent) continue;
    const { largestAge } = basis.law;
    // No pack is followed beyond the oldest age seen.
    const came = inUse.filter(
      ({ ageDays, failsAt }) => failsAt <= Math.min(ageDays + daysAtMonths(3), Math.max(ageDays, largestAge)),
    ).length;
    lentLaws += 1;
    expectedSum += ahead.expected;
    cameSum += came;
    if (came >= ahead.lower && came <= ahead.upper) held += 1;
  }
  return { held, told: lentLaws, expectedSum, cameSum };
}

test("the limits of a revision with few failures hold what comes, and its expected number is right where it fails as the others", () => {
  const { held, told, expectedSum, cameSum } = forecastsOfYoung(1, 50);
  expect(told).toBeGreaterThan(45);
  // At a true level of 0.95 fewer come in less than 2 of 100 runs (exact binomial tail); counts are whole, so it is higher.
  expect(binomialAtMost(Math.ceil(0.88 * told) - 1, told, 0.95)).toBeLessThan(0.02);
  expect(held).toBeGreaterThanOrEqual(0.88 * told);
  // Some 55 came: a seventh of chance, twice over.
  expect(Math.abs(expectedSum / cameSum - 1)).toBeLessThan(0.3);
});

test("a revision that fails twice as often as those it borrows from is foretold by its own failures", () => {
  const { held, told, expectedSum, cameSum } = forecastsOfYoung(2, 50);
  expect(told).toBeGreaterThan(20);
  expect(held).toBeGreaterThanOrEqual(0.85 * told);
  expect(expectedSum / cameSum).toBeGreaterThan(0.6);
});

test("none failed so far is not none to come, what is kept can be read again, and without likes nothing is told", () => {
  const random = seededRandom(3);
  const likes = cellsOf("B", soldOver(random, 900, 600));
  const watched = soldOver(random, 100, 200).map(({ ageDays }) => ({ ageDays, failsAt: Number.POSITIVE_INFINITY }));
  const running = watched.map(({ ageDays }): RunningCell => ({ ageDays, coverLeftDays: 500, packs: 1 }));
  const of = (some: LifeCell[]) => forecastGroup(cellsOf("A", watched), running, knownAtOnce, 0, "confirmed", some);
  const { basis, reserve } = of(likes);
  if (reserve.kind === "refused") throw new Error(reserve.reason);
  expect(reserve.expected).toBeGreaterThan(0);
  expect(reserve.lower).toBe(0);
  expect(reserve.upper).toBeGreaterThan(0);
  expect(keptBasisSchema.parse(JSON.parse(JSON.stringify(basis)))).toMatchObject(basis);
  expect(of([]).reserve).toMatchObject({ kind: "refused", reason: "too-few-failures" });
  // Few among the likes lend nothing either.
  expect(of(cellsOf("B", watched)).reserve).toMatchObject({ kind: "refused", reason: "too-few-failures" });
});
