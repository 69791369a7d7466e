import Papa from "papaparse";
import { expect, test } from "vitest";
import { adjustFamily, compareFamily, compareStrata } from "@/lib/reliability/compare-strata";
import { delayTaken } from "@/lib/reliability/delay-csv";
import { earlySignals } from "@/lib/reliability/early-signals";
import { groupReports } from "@/lib/reliability/group-report";
import { ifFailures, signalsIfFailures } from "@/lib/reliability/if-failures";
import { ifFailuresSentence, wouldStandOutSentence } from "@/lib/reliability/if-failures-sentences";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { countLongUndecided, takenAsFailures } from "@/lib/reliability/long-undecided";
import { reliabilityCsv } from "@/lib/reliability/reliability-csv";
import { knownAtOnce, reportingLag, reportingOf } from "@/lib/reliability/reporting-lag";
import { signalsCsv } from "@/lib/reliability/signals-csv";

const WAITED_DAYS = 40;
const life = { line: "confirmed", stratum: "M", entryDays: 0, dispatched: true, detail: null } as const;
const cell = (group: string, status: LifeCell["status"], exitDays: number, slackDays: number, packs = 1): LifeCell => ({
  ...life,
  group,
  status,
  exitDays,
  slackDays,
  packs,
});

/** Of 300 packs of lot B twelve were told 50 days ago or earlier and wait, one was told last week; the others fail as usual. */
const cells = [
  ...Array.from({ length: 30 }, (_, i) => cell("A", "failed", 10 + 8 * i, 92)),
  cell("A", "running", 400, 0, 1500),
  ...Array.from({ length: 12 }, (_, i) => cell("B", "undecided", 20 + 15 * i, i % 2 === 0 ? 92 : 50)),
  cell("B", "undecided", 100, 7),
  ...[60, 130, 200].map((age) => cell("B", "failed", age, 92)),
  cell("B", "running", 400, 0, 284),
];
const table = { cells, excluded: [] };
const tables = [{ by: "cell-lot", table }] as const;
const comparison = adjustFamily(compareStrata(table));

test("a return told too lately to be long undecided is none, and lives of the other line stay as they are", () => {
  expect(countLongUndecided(cells, WAITED_DAYS)).toBe(12);
  expect(countLongUndecided(cells, 60)).toBe(6);
  expect(countLongUndecided([{ ...cell("B", "returned", 20, 92), line: "any-return" }], WAITED_DAYS)).toBe(0);
  expect(takenAsFailures(cells, WAITED_DAYS).filter(({ status }) => status === "undecided")).toHaveLength(1);
});

test("a lot whose returns nobody decides on looks sound until they are taken for failures", () => {
  const asked = () => true;
  const [found, ...others] = ifFailures(tables, [{ by: "cell-lot", comparison }], knownAtOnce, WAITED_DAYS, asked);
  expect(others).toEqual([]);
  expect(found).toMatchObject({ group: "B", undecided: 12, isWorse: false, wouldBeWorse: true });
  // 15 failures among 300 packs beside 30 among 1,530 at equal ages: a little more than 15 / 300 over 30 / 1,530.
  expect(found?.effect.ratio?.ratio).toBeGreaterThan(2.4);
  expect(found?.effect.ratio?.ratio).toBeLessThan(2.8);
  if (found === undefined) throw new Error("a group is expected");
  expect(ifFailuresSentence(found, WAITED_DAYS)).toMatch(
    /^12 of its returns have been undecided for 40 days or more.*would fail 2\.[4-8] times as often as the other cell lots/,
  );
  expect(wouldStandOutSentence([found], WAITED_DAYS)).toMatch(
    /this would stand out as well: cell lot B \(12, 2\.[4-8] times/,
  );
});

test.each(["A", "B"])("with its own returns alone as failures lot %s is compared as in a table that says so", (lot) => {
  const waiting = [...cells, ...Array.from({ length: 9 }, (_, i) => cell("A", "undecided", 15 + 31 * i, 92))];
  // Some are confirmed within days of being told, others after weeks: those at risk are weighed.
  const delays = reportingLag([
    { lag: 3, longest: 300, count: 40 },
    { lag: 30, longest: 300, count: 40 },
  ]);
  if (delays.kind !== "lag") throw new Error("a delay is expected");
  const reporting = reportingOf(delays);
  const standing = compareFamily({ cells: waiting, excluded: [] }, reporting, () => () => true);
  const all = [{ by: "cell-lot", table: { cells: waiting, excluded: [] } }] as const;
  const found = ifFailures(all, [{ by: "cell-lot", comparison: standing }], reporting, WAITED_DAYS, () => true);
  const saidSo = waiting.flatMap((one) => (one.group === lot ? takenAsFailures([one], WAITED_DAYS) : [one]));
  const direct = compareFamily({ cells: saidSo, excluded: [] }, reporting, () => () => true);
  const own = found.find(({ group }) => group === lot)?.ownAlone;
  const expected = direct.groups.find(({ group }) => group === lot);
  if (own == null || expected === undefined) throw new Error("the lot is compared");
  expect(own).toMatchObject({
    observed: expected.observed,
    alone: expected.alone,
    strata: ["M"],
    holds: expected.holds,
  });
  for (const [ours, theirs] of [
    [own.expected, expected.expected],
    [own.p, expected.p],
    [own.ratio?.ratio, expected.ratio?.ratio],
    [own.ratio?.lower, expected.ratio?.lower],
    [own.doubtedP, expected.doubtedP],
  ] as const)
    expect((ours ?? -1) / (theirs ?? -1)).toBeCloseTo(1, 9);
});

test("a lot stands out were its own failures, also where those of all lots together would hide it", () => {
  // Of both lots 4 in 100 packs wait: 60 of 1,560 and 12 of 300.
  const spread = [...cells, ...Array.from({ length: 60 }, (_, i) => cell("A", "undecided", 15 + 4 * i, 92))];
  const hidden = { cells: spread, excluded: [] };
  const standing = adjustFamily(compareStrata(hidden));
  const all = ifFailures(
    [{ by: "cell-lot", table: hidden }],
    [{ by: "cell-lot", comparison: standing }],
    knownAtOnce,
    WAITED_DAYS,
    () => true,
  );
  const found = all.find(({ group }) => group === "B");
  if (found === undefined) throw new Error("a group is expected");
  expect(found.effect.adjustedP).toBeGreaterThan(0.05);
  expect(found.ownAlone?.adjustedP).toBeLessThan(0.05);
  expect(found.ownAlone?.ratio?.ratio).toBeGreaterThan(2.3);
  expect(found).toMatchObject({ isWorse: false, wouldBeWorse: true });
  expect(ifFailuresSentence(found, WAITED_DAYS)).toMatch(
    /were those of the others none, 2\.[3-8] times as often as they \(.*worst case\.$/,
  );
  // The other lot may be the bad one just as well: 90 of 1,560 beside 3 of 300.
  expect(wouldStandOutSentence(all, WAITED_DAYS)).toMatch(
    /^Were the returns of one of these that have been .* none, it would stand out as well: cell lot A \(60, 5.* cell lot B \(12, 2\.[3-8] times/,
  );
});

test("a lot of which alone something failed is said to fail more often, with its lower limit", () => {
  const sound = [
    ...Array.from({ length: 12 }, (_, i) => cell("B", "undecided", 20 + 15 * i, 92)),
    cell("B", "running", 300, 0, 288),
    cell("A", "running", 300, 0, 1500),
  ];
  const only = { cells: sound, excluded: [] };
  const [found] = ifFailures(
    [{ by: "cell-lot", table: only }],
    [{ by: "cell-lot", comparison: adjustFamily(compareStrata(only)) }],
    knownAtOnce,
    WAITED_DAYS,
    () => true,
  );
  if (found === undefined) throw new Error("a group is expected");
  expect(found.effect.ratio).toMatchObject({ ratio: null });
  expect(ifFailuresSentence(found, WAITED_DAYS)).toMatch(
    /it would fail more often than the other cell lots of its model \(95 % limits [0-9.]+ or more, adjusted p below 0\.001\)/,
  );
});

test("the early signal that they would give is told beside the one that is missing", () => {
  const signals = earlySignals(tables, knownAtOnce, () => 1);
  const [found] = signalsIfFailures(tables, signals, knownAtOnce, WAITED_DAYS);
  expect(found?.now).toMatchObject({ group: "B", observed: 3, alarm: false });
  expect(found?.then).toMatchObject({ observed: 15, alarm: true, threshold: found?.now.threshold });
  expect(found?.undecided).toBe(12);
  const rows = signalsCsv("2026-11-30", signals, signalsIfFailures(tables, signals, knownAtOnce, WAITED_DAYS));
  expect(rows).toContain('returns undecided for too long,"failures, were they such"');
  expect(rows).toMatch(/,12,15,[0-9.]+,signal\r?$/m);
});

test("the table file of the comparison has the same beside each group", () => {
  const [found] = ifFailures(tables, [{ by: "cell-lot", comparison }], knownAtOnce, WAITED_DAYS, () => true);
  const [report] = groupReports("cell-lot", ["B"], table);
  if (report === undefined || found === undefined) throw new Error("a group is expected");
  const about = {
    modelNames: ["M"],
    effect: null,
    unknownStarts: null,
    ifFailures: found,
    delay: delayTaken("B", reportingLag([]), null),
  };
  const csv = reliabilityCsv("2026-11-30", "cell-lot", [{ ...report, ...about }]);
  const [row] = Papa.parse<Record<string, string>>(csv, { header: true }).data;
  expect(row?.["returns undecided for too long"]).toBe("12");
  expect(Number(row?.["times as often as the others, were they failures"])).toBeCloseTo(
    found.effect.ratio?.ratio ?? 0,
    9,
  );
});

test("without such returns nothing is compared twice", () => {
  expect(ifFailures(tables, [], knownAtOnce, 93, () => true)).toEqual([]);
  expect(signalsIfFailures(tables, earlySignals(tables, knownAtOnce), knownAtOnce, 93)).toEqual([]);
});
