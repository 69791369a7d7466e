import { expect, test } from "vitest";
import { earlySignals, FALSE_ALARM_CHANCE, groupsSharedOver, judge } from "@/lib/reliability/early-signals";
import type { LifeCell, LifeTable } from "@/lib/reliability/life-cell";
import { measuredFleet, measuredSignals } from "@/lib/reliability/signal-measurements";
import { measuredSentence, timesOfLikes, timesWords, whySentence } from "@/lib/reliability/signal-sentences";
import { visibleAtRisk } from "@/lib/reliability/visible-exposure";
import { conditionalRatio, sequentialRatio } from "@/lib/stats/maximised-sequential-ratio";
import { seededRandom } from "@/tests/support/seeded-random";
import { signalHistory } from "@/tests/support/signal-histories";

const life = { line: "confirmed", stratum: "M", entryDays: 0, slackDays: 0, dispatched: true, detail: null } as const;
const allKnown = { shareKnown: () => 1, longestLagDays: 0 };

function group(name: string, failures: number, running: number, exitDays = 400): LifeCell[] {
  return [
    ...Array.from({ length: failures }, (_, i) => ({
      ...life,
      group: name,
      exitDays: 1 + Math.floor(((i + 0.5) * exitDays) / failures),
      slackDays: 92,
      status: "failed" as const,
      packs: 1,
    })),
    { ...life, group: name, exitDays, status: "running", packs: running },
  ];
}

const fleet = (...cells: LifeCell[][]): LifeTable => ({ cells: cells.flat(), excluded: [] });

test("a young group with six times the failures of its likes raises an alarm, its likes do not", () => {
  const { states, watchedGroups } = earlySignals(
    [{ by: "revision", table: fleet(group("A", 40, 1960), group("B", 40, 1960), group("C", 28, 872, 100)) }],
    allKnown,
  );
  expect(watchedGroups).toBe(3);
  expect(states.filter(({ alarm }) => alarm).map((state) => state.group)).toEqual(["C"]);
  // 40 failures of 2,000 packs in 400 days are 0.5 in 100 by day 100: 4.5 of 900.
  expect(states.find((state) => state.group === "C")?.expected).toBeCloseTo(4.5, 0);
});

test("where the likes have hardly failed nothing can be expected, and the group is counted as not watched", () => {
  const signals = earlySignals([{ by: "dealer", table: fleet(group("A", 5, 500), group("B", 9, 100)) }], allKnown);
  expect(signals).toMatchObject({ states: [], watchedGroups: 0, unwatchable: 2 });
});

test("packs at risk are counted with the chance that their failure would be known", () => {
  const cells = [{ ...life, group: "A", exitDays: 100, status: "running" as const, packs: 10 }];
  const half = (lag: number) => (lag >= 20 ? 1 : 0.5);
  expect([...visibleAtRisk(cells, [50, 80, 81, 100, 101], { shareKnown: half, longestLagDays: 20 })]).toEqual([
    10, 10, 5, 5, 0,
  ]);
});

test("slow reporting lowers what is to be expected by now, so that an alarm does not come late", () => {
  const table = fleet(group("A", 40, 1960), group("C", 9, 891, 40));
  const slow = { shareKnown: (lag: number) => Math.min(1, lag / 40), longestLagDays: 40 };
  const expectedOf = (reporting: typeof slow) =>
    earlySignals([{ by: "revision", table }], reporting).states.find((state) => state.group === "C")?.expected ?? 0;
  // A and C share too few failures to watch A; C is watched against A.
  expect(expectedOf(slow)).toBeLessThan(0.6 * expectedOf({ ...slow, shareKnown: () => 1 }));
});

/** Failures of `groups` groups looked at each day until `end` failures are expected of each; days to the first alarm. */
function watch(random: () => number, groups: number, end: number, rateRatio: number): number | null {
  const days = 120;
  const counts = new Array<number>(groups).fill(0);
  for (let day = 1; day <= days; day++) {
    for (let g = 0; g < groups; g++) {
      const mean = (g === 0 ? rateRatio : 1) * (end / days);
      let arrival = -Math.log(1 - random());
      while (arrival < mean) {
        counts[g] = (counts[g] ?? 0) + 1;
        arrival += -Math.log(1 - random());
      }
      if (judge(counts[g] ?? 0, (end * day) / days, end, groups).alarm) return day;
    }
  }
  return null;
}

test("looking every day, any of ten groups raises a false alarm in no more than the stated share of histories", () => {
  const random = seededRandom(41);
  const histories = 400;
  let alarms = 0;
  for (let i = 0; i < histories; i++) if (watch(random, 10, 8, 1) !== null) alarms += 1;
  const spread = Math.sqrt((FALSE_ALARM_CHANCE * (1 - FALSE_ALARM_CHANCE)) / histories);
  expect(alarms / histories).toBeLessThan(FALSE_ALARM_CHANCE + 3 * spread);
});

test("a doubled rate in one of ten groups is found before its expected failures have come, in most histories", () => {
  const random = seededRandom(42);
  const found = Array.from({ length: 200 }, () => watch(random, 10, 20, 2));
  const inTime = found.filter((day) => day !== null);
  // With 20 failures to be expected by the end, power 0.92 at alpha 0.05 alone (Kulldorff et al. 2011, table 2); less here,
  // since alpha is shared by ten.
  expect(inTime.length / found.length).toBeGreaterThan(0.7);
  const median = inTime.sort((a, b) => a - b)[Math.floor(inTime.length / 2)] ?? 120;
  expect(median).toBeLessThan(80);
});

test.each([0.02, 0.5, 3, 37, 5000])(
  "a group of which %d failures are expected by the end has a threshold",
  (expectedAtEnd) => {
    for (const watchedGroups of [1, 12, 250]) {
      const { threshold } = judge(3, 1, expectedAtEnd, watchedGroups);
      expect(threshold).toBeGreaterThan(1);
      expect(threshold).toBeLessThan(20);
    }
  },
);

test.each([0.3, 4, 24.96])(
  "with %s failures to be expected the number told for a signal is the first that is one",
  (expected) => {
    const { alarmAt } = judge(0, expected, 30, 201);
    expect(judge(alarmAt, expected, 30, 201).alarm).toBe(true);
    expect(judge(alarmAt - 1, expected, 30, 201).alarm).toBe(false);
  },
);

test("failures after the end of the watch, or at ages no like has reached, are neither counted nor expected", () => {
  const late = (name: string, exitDays: number, packs: number): LifeCell => {
    return { ...life, group: name, exitDays, slackDays: 92, status: "failed", packs };
  };
  const alike = [group("A", 40, 1960, 360), group("B", 40, 1960, 360)];
  const [before, after] = [fleet(...alike), fleet(...alike, [late("B", 400, 30)], [late("B", 364, 30)])].map((table) =>
    earlySignals([{ by: "revision", table }], allKnown).states.find((state) => state.group === "B"),
  );
  expect(after?.observed).toBe(before?.observed);
  expect(after?.alarm).toBe(false);
});

test("likes that failed only after the end of the watch are no baseline", () => {
  const table = fleet(
    group("A", 10, 1990, 360),
    group("A", 40, 100, 3600).filter(({ exitDays }) => exitDays > 365),
    group("B", 9, 891),
  );
  expect(earlySignals([{ by: "revision", table }], allKnown)).toMatchObject({ states: [], unwatchable: 2 });
});

test("a baseline of few failures weakens the evidence, one without end leaves it as it is", () => {
  // By hand: 12 ln((12 / 32) / (5 / 25)) + 20 ln((20 / 32) / (20 / 25)) for 12 failures where 5 were expected from 20.
  const byHand = 12 * Math.log(12 / 32 / (5 / 25)) + 20 * Math.log(20 / 32 / (20 / 25));
  expect(conditionalRatio(12, 5, 20)).toBeCloseTo(byHand, 12);
  expect(conditionalRatio(12, 5, 20)).toBeLessThan(sequentialRatio(12, 5));
  expect(conditionalRatio(12, 5, 1e12)).toBeCloseTo(sequentialRatio(12, 5), 6);
  expect(conditionalRatio(5, 5, 20)).toBe(0);
});

test("the chance is shared over a number fixed beforehand, which a new lot does not move", () => {
  expect([1, 12, 201, 256].map(groupsSharedOver)).toEqual([256, 256, 256, 256]);
  expect([257, 512, 513].map(groupsSharedOver)).toEqual([512, 512, 1024]);
});

test("a revision is watched for each fault of which there are enough by itself too, a dealer is not", () => {
  const table = fleet(group("A", 40, 1960), group("B", 40, 1960), group("C", 15, 885, 100));
  const cells = table.cells.map((cell, i) =>
    cell.status === "failed" ? { ...cell, detail: i % 2 === 0 ? "sense-wire" : "weak-cell" } : cell,
  );
  const watchedFor = (by: "revision" | "dealer") =>
    new Set(earlySignals([{ by, table: { cells, excluded: [] } }], allKnown).states.map(({ fault }) => fault));
  expect(watchedFor("revision")).toEqual(new Set([null, "weak-cell", "sense-wire"]));
  expect(watchedFor("dealer")).toEqual(new Set([null]));
});

test("fleets looked at with lag and baseline estimated go as they went when the simulation was written", () => {
  const none = { isFalse: false, found: null };
  expect(signalHistory(1, false, [12, 256])).toEqual([none, none]);
  const found = { isFalse: false, found: { days: 111, failures: 12 } };
  expect(signalHistory(1_000_092, true, [256])).toEqual([found]);
});

test("a signal says how many times as often with exact limits that allow for the failures of its likes, and their number", () => {
  const times = timesOfLikes({ observed: 12, expected: 4, baseline: 30 });
  expect(times?.ratio).toBeCloseTo(3, 12);
  // R 4.2.2: poisson.test(c(12, 30), c(4, 30)).
  expect(times?.lower).toBeCloseTo(1.39881830126, 9);
  expect(times?.upper).toBeCloseTo(6.03396817527, 9);
  const { states } = earlySignals(
    [{ by: "revision", table: fleet(group("A", 40, 1960), group("B", 40, 1960), group("C", 28, 872, 100)) }],
    allKnown,
  );
  const [c] = states;
  if (c === undefined) throw new Error("C is watched");
  // Ten failures of A and of B come by day 100, at which C is last seen.
  expect(c.likesFailed).toBe(20);
  expect(whySentence(c)).toMatch(
    /^Build revision C: 28 confirmed .* where 4\.[0-9] were to be expected by now from the 20 of its likes, [56]\.[0-9] times as often as its likes \(exact 95 % limits for this day alone [0-9.]+ to [0-9.]+\)\.$/,
  );
  expect(timesWords({ observed: 2, expected: 0, baseline: 20 })).toBe("cannot tell yet");
});

test("what the page says was measured is what the simulation is built from and the benchmark compares with", () => {
  const { fleets, falseSignals, found } = measuredSignals;
  const said = measuredSentence();
  expect(said).toContain(`in ${fleets} made-up fleets of ${measuredFleet.groups} groups alike`);
  for (const { sharedOver, fleets: some } of falseSignals)
    expect(said).toContain(`${some} ever gave a false signal with the chance shared over ${sharedOver} (`);
  // The share of the chance that the product itself gives one of so few groups, and of more than fill that.
  expect(found[0].sharedOver).toBe(measuredFleet.groups);
  expect(groupsSharedOver(measuredFleet.groups)).toBe(found[1].sharedOver);
  expect(groupsSharedOver(300)).toBe(found[2].sharedOver);
  // What sharing costs: the same bad group is found more often where only the groups of its fleet share the chance.
  expect(found[0].ever).toBeGreaterThan(2 * found[1].ever);
  for (const { sharedOver, within, ever } of found) {
    const soon = within.map(({ months, fleets: some }) => `${some} within ${months} months \\([^)]+\\)`).join(", ");
    expect(said).toMatch(new RegExp(`shared over ${sharedOver}: ${soon}, and ${ever} ever \\(`));
  }
  expect(said).toMatch(/^Measured under rules signals-[0-9]+, in /);
  expect(measuredSentence("signals-99")).toMatch(
    /^Measured under rules signals-[0-9]+, while they are signals-99 now, in /,
  );
});
