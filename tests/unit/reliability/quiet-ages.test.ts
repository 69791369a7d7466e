import { expect, test } from "vitest";
import { forecastGroup } from "@/lib/reliability/cover-forecast";
import { foldCounts, totalLimits } from "@/lib/reliability/fold-counts";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { quietSpells, withQuietAges } from "@/lib/reliability/quiet-ages";
import { knownAtOnce } from "@/lib/reliability/reporting-lag";

const none = Float64Array.of(1);

/** Limits of a number of failures in so much time, where none failed in so much. */
function limitsAhead(time: number, exposure: number) {
  const after = { from: 100, to: null, failures: 0, exposure };
  const ahead = { spans: [{ from: 100, to: 200, units: time / 100 }], hidden: [], mostFailures: 10_000 };
  return totalLimits(foldCounts([withQuietAges(none, { before: null, after }, ahead)]));
}

// The exact upper prediction limit after a count of 0 in E, for a time T, is the smallest x with (T / (E + T)) ** (x + 1) <= 0.025: given
// that x + 1 come in both together, all of them come late (Nelson, Applied Life Data Analysis, 1982, from memory). By hand.
test.each([
  [1000, 1000, 5],
  [500, 1000, 3],
  [4000, 1000, 16],
  [1, 1000, 0],
])("in %i unit-days after %i watched without a failure at most %i are not excluded", (time, exposure, upper) => {
  const byHand = Math.ceil(Math.log(0.025) / Math.log(time / (exposure + time))) - 1;
  expect(byHand).toBe(upper);
  const limits = limitsAhead(time, exposure);
  expect(limits.lower).toBe(0);
  expect(limits.upper).toBe(upper);
});

test("in a long time ahead the upper limit is Garwood's, 3.69 for none seen", () => {
  // Chance of the count itself no longer matters at 100 times the time: 3.688879 (Garwood 1936) times 100, +- chance of the count.
  const { upper } = limitsAhead(100_000, 1000);
  expect(Math.abs(upper / 368.8879 - 1)).toBeLessThan(0.02);
});

const cell = (exitDays: number, status: LifeCell["status"], packs = 1): LifeCell => {
  const kept = { line: "confirmed", group: "A", stratum: "M", entryDays: 0, slackDays: 92, dispatched: true } as const;
  return { ...kept, exitDays, status, packs, detail: null };
};
const watched = Array.from({ length: 30 }, (_, i) => cell(100 + 20 * i, "running", 20));
const running = [
  { ageDays: 100, coverLeftDays: 630, packs: 300 },
  { ageDays: 250, coverLeftDays: 480, packs: 300 },
];

test("where a part that can fail has failed, the limits allow for others: none of 600 packs in a year is never foretold", () => {
  const early = [1, 2, 2, 3, 3, 4, 5, 6, 7, 7, 8, 9].map((age) => cell(age, "failed"));
  const { basis, forecasts, reserve } = forecastGroup([...early, ...watched], running, knownAtOnce, 0);
  if ("refused" in basis.law) throw new Error("a law is expected");
  expect(basis.law.part?.share).toBeCloseTo(12 / 612, 4);
  // By hand: 600 packs watched from day 9 to 100 ... 680, 20 of each.
  expect(basis.law.quiet?.after).toEqual({ from: 9, to: null, failures: 0, exposure: 600 * (390 - 9) });
  const year = forecasts.find(({ months }) => months === 12);
  // 600 packs run 365.25 days but for those that reach the oldest age of 680 in none: (219150 / (228600 + 219150)) ** 6 < 0.025.
  expect(year).toMatchObject({ kind: "forecast", lower: 0, upper: 5 });
  expect(reserve).toMatchObject({ kind: "reserve", lower: 0, upper: 6 });
});

test("a single late failure does not leave hardly any time to judge the others by", () => {
  const lives = [
    { age: 5, entered: 0, failed: 10, censored: 0 },
    { age: 600, entered: 0, failed: 1, censored: 0 },
    { age: 610, entered: 0, failed: 0, censored: 500 },
  ];
  const counts = [{ age: 0, entered: 511, failed: 0, censored: 0 }, ...lives];
  expect(quietSpells(counts, true).after).toEqual({ from: 5, to: null, failures: 1, exposure: 595 + 500 * 605 });
  expect(quietSpells(counts, false)).toEqual({
    before: { from: 0, to: 5, failures: 0, exposure: 511 * 5 },
    after: null,
  });
});

test("ages before the first failure are allowed for only where all of the time ahead lies there", () => {
  const quiet = { before: { from: 0, to: 119, failures: 0, exposure: 1000 }, after: null };
  const ahead = (to: number) => ({ spans: [{ from: 10, to, units: 100 }], hidden: [], mostFailures: 100 });
  expect(withQuietAges(none, quiet, ahead(120))).toBe(none);
  expect(withQuietAges(none, quiet, ahead(119))[0]).toBeLessThan(0.6);
  const hidden = [{ ageDays: 130, packs: 3 }];
  expect(withQuietAges(none, quiet, { ...ahead(119), hidden })).toBe(none);
});

test("failures of one age alone give no 0 to 0 for young packs, and no horizon whose limits say nothing", () => {
  const cells = [cell(119, "failed", 5), cell(120, "running", 500)];
  const young = [{ ageDays: 10, coverLeftDays: null, packs: 500 }];
  const [three, six] = forecastGroup(cells, young, knownAtOnce, 0).forecasts;
  expect(three).toMatchObject({ kind: "forecast", lower: 0, upper: 4 });
  if (six?.kind !== "refused") throw new Error("a refusal is expected");
  // Up to day 119 nothing is to be expected, at it all five: 110 days ahead are told as 5.0, between 0 and 12, and no later age was seen.
  expect(six.tellable.forDays).toBe(110);
});
