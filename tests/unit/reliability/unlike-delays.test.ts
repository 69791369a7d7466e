import { expect, test } from "vitest";
import { compareFamily, type GroupEffect, isCalledWorse } from "@/lib/reliability/compare-strata";
import { earlySignals } from "@/lib/reliability/early-signals";
import { oneDelaySentence } from "@/lib/reliability/group-lag-sentences";
import { groupLags } from "@/lib/reliability/group-lags";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { reportingLag, reportingOf } from "@/lib/reliability/reporting-lag";
import { whySentence } from "@/lib/reliability/signal-sentences";
import { hangingGroups } from "@/lib/reliability/what-got-worse";
import { effectSentence, hangingSentence } from "@/lib/reliability/worse-sentences";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { seededRandom } from "@/tests/support/seeded-random";

// Made-up fleets in which the packs of a comparison do not share one unchanging delay. All fail alike, with a mean of 700 days, unless
// said otherwise: whatever is called there, on either side, is called falsely.
const FLEETS = 8;
const MEAN_LIFE_DAYS = 700;
const life = { line: "confirmed", stratum: "M", entryDays: 0, dispatched: true, detail: null, packs: 1 } as const;

interface Sold {
  readonly group: string;
  readonly place: string;
  readonly packs: number;
  readonly oldestDays: number;
  readonly hazardTimes?: number;
  /** Of a failure told so many days ago. */
  readonly lagOf: (toldAgo: number) => number;
}

function fleetOf(all: readonly Sold[], random: () => number) {
  const lagsByPlace = new Map<string, TruncatedLag[]>();
  const cells = all.flatMap(({ group, place, packs, oldestDays, hazardTimes = 1, lagOf }) =>
    Array.from({ length: packs }, (): LifeCell => {
      const age = 1 + Math.floor(oldestDays * random());
      const fails = Math.ceil((-Math.log(1 - random()) * MEAN_LIFE_DAYS) / hazardTimes);
      const toldAgo = age - fails;
      const lag = lagOf(toldAgo);
      if (toldAgo < 0) return { ...life, group, exitDays: age, slackDays: 0, status: "running" };
      if (lag <= toldAgo) lagsByPlace.set(place, [...(lagsByPlace.get(place) ?? []), { lag, longest: toldAgo }]);
      const status = lag <= toldAgo ? "failed" : "undecided";
      return { ...life, group, exitDays: fails, slackDays: Math.min(92, toldAgo), status };
    }),
  );
  return { table: { cells, excluded: [] }, lagsByPlace, lag: reportingLag([...lagsByPlace.values()].flat()) };
}

/** Calls of one group over many fleets, as the product makes them, and as the test alone would. */
function count(effects: readonly GroupEffect[]) {
  const tested = effects.filter(({ adjustedP }) => (adjustedP ?? 1) < 0.05);
  return {
    worse: effects.filter(isCalledWorse).length,
    better: tested.filter((one) => one.observed < one.expected && one.holds !== false).length,
    byTestAlone: tested.length,
  };
}

function effectOf(group: string, { table, lag }: ReturnType<typeof fleetOf>, reporting = reportingOf(lag)) {
  const found = compareFamily(table, reporting, () => () => true).groups.find((one) => one.group === group);
  if (found === undefined) throw new Error("a group is expected");
  return found;
}

test("a new revision sold through one slow or one fast country alone is called neither better nor worse for it", () => {
  const random = seededRandom(5);
  const [slow, fast] = [() => 50 + Math.floor(30 * random()), () => 8 + Math.floor(10 * random())];
  const old = [
    { group: "R1", place: "fast", packs: 1500, oldestDays: 400, lagOf: fast },
    { group: "R1", place: "slow", packs: 500, oldestDays: 400, lagOf: slow },
  ];
  const through = (place: "slow" | "fast", hazardTimes: number) =>
    Array.from({ length: FLEETS }, () => {
      const lagOf = place === "slow" ? slow : fast;
      const R2 = { group: "R2", place, packs: 1000, oldestDays: 100, hazardTimes, lagOf };
      return effectOf("R2", fleetOf([...old, R2], random));
    });
  const alike = count([...through("slow", 1), ...through("fast", 1)]);
  expect(alike.byTestAlone).toBeGreaterThan(FLEETS / 2);
  expect(alike).toMatchObject({ worse: 0, better: 0 });
  // Twice as bad behind the slow country it may not be called better; through the fast one it is found all the same.
  expect(count(through("slow", 2)).better).toBe(0);
  expect(count(through("fast", 2)).worse).toBeGreaterThan(FLEETS / 2);
});

test("a young dealer whose failures are confirmed within days is not called worse for it, nor by a signal without its doubt", () => {
  const random = seededRandom(6);
  const usual = () => Math.min(92, Math.floor(-45 * Math.log(1 - random())));
  const others = ["D1", "D2"].map((group) => ({ group, place: group, packs: 800, oldestDays: 300, lagOf: usual }));
  const F = { group: "F", place: "F", packs: 1500, oldestDays: 60, lagOf: () => 2 + Math.floor(5 * random()) };
  const fleets = Array.from({ length: FLEETS }, () => {
    const fleet = fleetOf([...others, F], random);
    const { reporting } = groupLags("dealer", fleet.lagsByPlace, fleet.lag);
    const signals = earlySignals([{ by: "dealer", table: fleet.table, reporting }], reporting, () => 1);
    const state = signals.states.find(({ group }) => group === "F");
    return { effect: effectOf("F", fleet, reporting), state };
  });
  const calls = count(fleets.map(({ effect }) => effect));
  expect(calls.byTestAlone).toBeGreaterThan(FLEETS / 4);
  expect(calls).toMatchObject({ worse: 0, better: 0 });
  const alarms = fleets.flatMap(({ state }) => (state?.alarm ? [state] : []));
  // One watch that has the whole chance, so that there are signals to ask.
  expect(alarms.length).toBeGreaterThan(0);
  expect(alarms.filter(({ holds }) => holds)).toEqual([]);
  for (const state of alarms) expect(whySentence(state)).toMatch(/Whether it fails more cannot be told yet: were its/);
});

test("a change of pace at the bench makes the newest revision neither worse nor better", () => {
  const random = seededRandom(3);
  for (const [before, lately] of [
    [45, 12],
    [12, 45],
  ] as const) {
    const lagOf = (toldAgo: number) =>
      Math.min(92, Math.floor(-(toldAgo <= 60 ? lately : before) * Math.log(1 - random())));
    const effects = Array.from({ length: FLEETS }, () =>
      ["R1", "R2"].map((group, i) => ({
        group,
        place: "",
        packs: 1500 - 300 * i,
        oldestDays: i === 0 ? 400 : 70,
        lagOf,
      })),
    ).map((sold) => effectOf("R2", fleetOf(sold, random)));
    const calls = count(effects);
    expect(calls.byTestAlone).toBeGreaterThan(FLEETS / 4);
    expect(calls).toMatchObject({ worse: 0, better: 0 });
  }
});

test("where dealers are confirmed at different speeds, a comparison of revisions says that it weighs all by one delay", () => {
  const random = seededRandom(8);
  const sold = [40, 10].map((mean, i): Sold => {
    const lagOf = () => Math.floor(-mean * Math.log(1 - random()));
    return { group: `R${i}`, place: `D${i}`, packs: 800, oldestDays: 400, lagOf };
  });
  const { lagsByPlace, lag } = fleetOf(sold, random);
  const dealers = groupLags("dealer", lagsByPlace, lag);
  expect(oneDelaySentence("revision", dealers)).toMatch(
    /weighed by one delay here: a revision sold mostly by slow dealers looks better than it is, one sold mostly by fast ones worse/,
  );
  expect(oneDelaySentence("dealer", dealers)).toBe("");
  expect(oneDelaySentence("revision", { ...dealers, p: 0.4 })).toBe("");
});

test("what the delay alone could have made is said to be that, and is not counted as a finding", () => {
  const effect = {
    ...{
      group: "R2",
      strata: ["M"],
      observed: 40,
      expected: 24,
      alone: 0,
      comparedAges: null,
      p: 0.004,
      adjustedP: 0.008,
    },
    ...{ ratio: null, holds: false },
  };
  expect(isCalledWorse(effect)).toBe(false);
  expect(isCalledWorse({ ...effect, holds: true })).toBe(true);
  expect(effectSentence("revision", effect, 4)).toMatch(
    /^Whether it fails more or less often than the others cannot be told yet\. By the delay that is allowed for it would fail .* that alone could make the difference\.$/,
  );
  const hanging = hangingGroups([{ by: "revision", comparison: { groups: [effect] } }]);
  expect(hangingSentence(hanging)).toMatch(
    /^Of 1 group it cannot be told yet .* Revision R2 \(more often by the delay/,
  );
  expect(hangingSentence([])).toBe("");
});
