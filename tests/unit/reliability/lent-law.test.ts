import { expect, test } from "vitest";
import { besideFieldNames, besideFields } from "@/lib/reliability/beside-fields";
import { besideForecast, totalReturns } from "@/lib/reliability/beside-forecast";
import { returnsSentence } from "@/lib/reliability/beside-sentences";
import { coverBasis, type RunningCell } from "@/lib/reliability/cover-basis";
import { forecastGroup, foretell } from "@/lib/reliability/cover-forecast";
import { foldCounts, totalLimits } from "@/lib/reliability/fold-counts";
import { forecastCaveats, lentSentence, lentWords } from "@/lib/reliability/forecast-sentences";
import { totalForecast } from "@/lib/reliability/forecast-total";
import { groupLife } from "@/lib/reliability/group-life";
import { keptBasisSchema } from "@/lib/reliability/kept-forecast.schema";
import { lentCounts } from "@/lib/reliability/lent-law";
import { countCells, type LifeCell } from "@/lib/reliability/life-cell";
import { daysAtMonths } from "@/lib/reliability/months-in-service";
import { knownAtOnce } from "@/lib/reliability/reporting-lag";
import { countQuantile } from "@/lib/stats/binomial-mixture";
import { binomialAtMost } from "@/lib/stats/binomial-tails";
import { fitWeibull } from "@/lib/stats/weibull-fit";
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

test("the upper half rests on the units' own time alone, the lower half is drawn towards the likes", () => {
  // As above, 3 of the 8 units of time being lent.
  const lent = { failures: 2, ofLenders: 1000, points: [{ shape: 1, weight: 1, exposure: 8, ownExposure: 5 }] };
  const packs = 10_000;
  const counts = lentCounts({ lent, largestAge: 1 }, packs, ({ scale }) => {
    const chance = 6 / scale / packs;
    return { sum: packs * chance, sumOfSquares: packs * chance * chance };
  });
  // R 4.2.2: dnbinom(0, 2.5, 8 / 14); qnbinom(0.025, 2.5, 8 / 14) gives 0, qnbinom(c(0.5, 0.975), 2.5, 5 / 11) gives 2, 9.
  expect(counts[0]).toBeCloseTo(0.2468339416, 3);
  expect([0.025, 0.501, 0.975].map((level) => countQuantile(counts, level))).toEqual([0, 2, 9]);
  expect(counts.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
});

test("two revisions that wear out alike, one twenty times as fast, lend the shape they have and not the one of their mixture", () => {
  const wearOut = (group: string, packs: number, oldestDays: number, timesAsOften: number): LifeCell[] =>
    cellsOf(
      group,
      Array.from({ length: packs }, (_, i) => ({
        ageDays: Math.ceil((oldestDays * (packs - i)) / packs),
        // Shares spread evenly (multiples of the golden section), so that chance has no part in it.
        failsAt: 2500 * (-Math.log(1 - ((i * 0.6180339887) % 1)) / timesAsOften) ** (1 / 2),
      })),
    );
  const likes = [...wearOut("B", 4000, 900, 1), ...wearOut("C", 1000, 300, 20)];
  const pooled = fitWeibull(countCells(likes, "confirmed"));
  if (pooled.kind === "refused") throw new Error(pooled.reason);
  expect(pooled.shape).toBeLessThan(1.6);
  const young = cellsOf("A", [{ ageDays: 200, failsAt: Number.POSITIVE_INFINITY }]);
  const { law } = coverBasis(young, [{ ageDays: 200, coverLeftDays: 9, packs: 1 }], knownAtOnce, 0, "confirmed", likes);
  if ("refused" in law) throw new Error(law.refused);
  // Some 270 failures, evenly spread: a standard error of the shape of some 0.1, were they chance.
  expect(Math.abs(law.shape - 2)).toBeLessThan(0.2);
  // The page of a group takes the same.
  const { model } = groupLife(young, likes, knownAtOnce, 0);
  expect(model).toMatchObject({ kind: "assumed-shape", fit: { shape: law.shape } });
});

// In 200 fleets each of the same kind: as often as its likes, 199 of 200 held what came and 174 were expected where 172 came; twice as often,
// 194 of the 196 with fewer than five failures, 266 and 346; three times, 178 of 180, 317 and 470, 2 came above the upper limit (10 did while
// it was drawn towards the likes as well); six times, of 400 fleets, 154 of 164, 394 and 947, 10 above.
/** How often the limits hold what comes of a young revision in the next three months, and both sums. */
function forecastsOfYoung(timesAsOften: number, fleets: number) {
  const random = seededRandom(77);
  let [held, above, expectedSum, cameSum, lentLaws] = [0, 0, 0, 0, 0];
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
    if (came > ahead.upper) above += 1;
  }
  return { held, above, told: lentLaws, expectedSum, cameSum };
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

test("a revision that fails three times as often as those it borrows from seldom comes above the upper limit", () => {
  const { above, told } = forecastsOfYoung(3, 50);
  expect(told).toBeGreaterThan(20);
  // At a true level of 0.025 more come in less than 2 of 100 runs (exact binomial tail).
  expect(binomialAtMost(told - 5, told, 0.975)).toBeLessThan(0.02);
  expect(above).toBeLessThan(5);
});

test("the sentence and the words of a lent law say whose shape it is, which it is, and in which direction it errs", () => {
  const told = lentSentence({ lent: ["A"] });
  expect(told).toContain(
    "The number expected rests on its own few, drawn towards the rate of those others: if it fails more often than those do, it is too low.",
  );
  expect(told).toContain("The upper limit rests on its own few alone.");
  expect(lentSentence({ lent: ["A", "B"] })).toContain("if they fail more often than those do, it is too low");
  const lent = { failures: 1, ofLenders: 34, points: [] };
  const law = {
    shape: 1.724,
    scale: 900,
    largestAge: 300,
    doubt: { varianceMu: 1, varianceLogSigma: 1, covariance: 0 },
    lent,
  };
  expect(lentWords({ law })).toBe(
    "change with age (shape 1.72) lent by the 34 failures of the others of its model; expected number drawn towards their rate, too low if it fails more often",
  );
});

test("a few pilot packs before a young series leave it without a forecast, and the total of the others with its limits", () => {
  const random = seededRandom(4);
  const likes = cellsOf("B", soldOver(random, 1800, 900));
  const aged = (packs: number, ageDays: number) =>
    Array.from({ length: packs }, () => ({ ageDays, failsAt: Number.POSITIVE_INFINITY }));
  const groupOf = (group: string, packs: ReturnType<typeof aged>) => {
    const running = packs.map(({ ageDays }): RunningCell => ({ ageDays, coverLeftDays: 700, packs: 1 }));
    const ownLikes = group === "B" ? [] : likes;
    const cells = group === "B" ? likes : cellsOf(group, packs).map((cell) => ({ ...cell, slackDays: 0 }));
    return { ...forecastGroup(cells, running, knownAtOnce, group === "B" ? 0 : 30, "confirmed", ownLikes), group };
  };
  const old = groupOf("B", aged(1800, 300));
  const young = groupOf("A", [...aged(5, 200), ...aged(500, 30)]);
  expect(young.reserve).toEqual({ kind: "refused", reason: "too-few-watched" });
  for (const horizon of [3, "cover-end"] as const) {
    const [alone, both] = [totalForecast([old], horizon), totalForecast([old, young], horizon)];
    if (alone === null || both === null) throw new Error("a total is expected");
    expect({ ...both, leftOut: [], packsLeftOut: 0 }).toEqual(alone);
    expect(both.leftOut).toEqual([{ group: "A", isOfAges: false }]);
    expect(forecastCaveats(both)).toMatch(
      /^.*Revision A is not in it \(505 packs under cover\): .*too few packs watched for a limit/,
    );
  }
  // The same series watched for as long as its pilots is told.
  expect(groupOf("A", aged(505, 200)).reserve).toMatchObject({ kind: "reserve" });
});

test("first returns foretold by a lent law are marked as such, in sentence, table and file", () => {
  const random = seededRandom(9);
  const comeBack = (group: string, units: ReturnType<typeof soldOver>) =>
    cellsOf(group, units).map((cell): LifeCell => {
      return { ...cell, line: "any-return", status: cell.status === "failed" ? "returned" : cell.status };
    });
  const likes = comeBack("B", soldOver(random, 900, 600));
  const young = soldOver(random, 60, 150).map(({ ageDays }) => ({ ageDays, failsAt: Number.POSITIVE_INFINITY }));
  const running = young.map(({ ageDays }): RunningCell => ({ ageDays, coverLeftDays: 500, packs: 1 }));
  const beside = besideForecast({
    ...{
      group: "A",
      cells: comeBack("A", young),
      likes,
      running,
      runningWithoutReturn: running,
      backInUse: [],
      comeBack: [],
    },
    ...{ reporting: knownAtOnce, confirmedAfterDays: 0, lodgedAfterDays: 0 },
  });
  expect(returnsSentence(totalReturns([beside], 3), "in the next 3 months")).toMatch(
    /The total of first returns includes revision A with fewer than 5: how coming back changes with age is taken from the others .* if it comes back more often/,
  );
  expect(besideFields([beside], "A", 3, []).at(besideFieldNames.indexOf("law of first returns"))).toMatch(
    /^change with age \(shape [0-9.]+\) lent by the [0-9]+ first returns of the others of its model/,
  );
});

test("the total of many revisions that are lent a shape holds what is expected of them", () => {
  const random = seededRandom(5);
  const likes = cellsOf("B", soldOver(random, 900, 600));
  // Fifteen revisions of which none has failed yet: nothing of their own speaks for more than their likes have.
  const groups = Array.from({ length: 15 }, (_, i) => {
    const watched = soldOver(random, 60, 150).map(({ ageDays }) => ({ ageDays, failsAt: Number.POSITIVE_INFINITY }));
    const running = watched.map(({ ageDays }): RunningCell => ({ ageDays, coverLeftDays: 500, packs: 1 }));
    const group = `A${i}`;
    return { ...forecastGroup(cellsOf(group, watched), running, knownAtOnce, 0, "confirmed", likes), group };
  });
  const total = totalForecast(groups, "cover-end");
  if (total === null) throw new Error("a total is expected");
  const widened = totalLimits(
    foldCounts(groups.flatMap(({ reserve }) => (reserve.kind === "reserve" ? [reserve.distribution] : []))),
  );
  expect(total.lent).toHaveLength(15);
  expect(total.lower).toBeLessThan(total.expected);
  expect(total.upper).toBe(widened.upper);
  expect(total.lower).toBeLessThanOrEqual(widened.lower);
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
