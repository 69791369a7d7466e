import { expect, test } from "vitest";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { type EventHistory, meanCumulativeFunction } from "@/lib/stats/mean-cumulative-function";
import { numberIn, readCheckTable } from "@/tests/support/check-table";
import { countLives, type Life } from "@/tests/support/lives";
import { seededRandom } from "@/tests/support/seeded-random";
import { expectWithinRelative } from "@/tests/support/within-relative";

test("valve seats of 41 engines give Nelson's mean cumulative function with its robust error", ({ skip }) => {
  // Nelson, J. Qual. Technol. 27 (1995) 147-157; Meeker & Escobar (1998), chapter 16. Error worked out in R 4.2.2.
  const rows = readCheckTable("statistics/data/valve_seat.csv");
  const expected = readCheckTable("statistics/ref/mcf_valve_seat.csv");
  if (rows === null || expected === null) return skip("open data not present on this machine");
  const ends = new Map(rows.filter((row) => row.event === "end").map((row) => [row.engine, numberIn(row, "days")]));
  const systems = [...ends].map(
    ([engine, to]): EventHistory => ({
      to,
      events: rows.filter((row) => row.engine === engine && row.event !== "end").map((row) => numberIn(row, "days")),
    }),
  );
  expect(systems).toHaveLength(41);
  const steps = meanCumulativeFunction(systems);
  expect(steps.map(({ age, atRisk, events }) => [age, atRisk, events])).toEqual(
    expected.map((row) => ["day", "at_risk", "d"].map((column) => numberIn(row, column))),
  );
  for (const [i, row] of expected.entries()) {
    expectWithinRelative(steps[i]?.mean ?? -1, numberIn(row, "mcf"), 1e-9, `mean at ${row.day}`);
    expectWithinRelative(steps[i]?.standardError ?? -1, numberIn(row, "se"), 1e-9, `error at ${row.day}`);
  }
  expectWithinRelative(steps.at(-1)?.mean ?? 0, 1.5426875, 1e-7, "day 653");
  expectWithinRelative(steps.at(-1)?.standardError ?? 0, 0.31165607, 1e-7, "its error");
});

test("late entries, ties and gaps agree with the variance added up system by system", () => {
  const uniform = seededRandom(3);
  const systems = Array.from({ length: 60 }, (): EventHistory => {
    const from = uniform() < 0.4 ? Math.floor(30 * uniform()) : 0;
    const to = from + 1 + Math.floor(50 * uniform());
    const events = Array.from(
      { length: Math.floor(4 * uniform()) },
      () => from + 1 + Math.floor((to - from) * uniform()),
    );
    return { from, to, events: events.map((age) => Math.min(age, to)) };
  });
  const parts = systems.map(() => 0);
  let mean = 0;
  for (const step of meanCumulativeFunction(systems)) {
    const watched = systems.map(({ from = 0, to }) => from < step.age && step.age <= to);
    const own = systems.map(({ events }) => events.filter((age) => age === step.age).length);
    const n = watched.filter(Boolean).length;
    const increment = own.reduce((a, b) => a + b) / n;
    mean += increment;
    for (const i of parts.keys()) if (watched[i]) parts[i] = (parts[i] ?? 0) + ((own[i] ?? 0) - increment) / n;
    expectWithinRelative(step.mean, mean, 1e-12, "mean");
    expectWithinRelative(step.standardError, Math.sqrt(parts.reduce((a, b) => a + b * b, 0)), 1e-10, "error");
  }
});

test("with at most one event per system, after which it leaves, it is the Nelson-Aalen estimate", () => {
  const lives: Life[] = [
    [0, 4, 1],
    [0, 6, 0],
    [2, 9, 1],
    [0, 9, 1],
    [5, 12, 0],
    [0, 15, 1],
  ];
  const systems = lives.map(([from, to, failed]) => ({ from, to, events: failed === 1 ? [to] : [] }));
  expect(meanCumulativeFunction(systems).map(({ mean }) => mean)).toEqual(
    kaplanMeier(countLives(lives)).steps.map(({ cumulativeHazard }) => cumulativeHazard),
  );
});

test("no events give no steps, and an event while nobody watched is refused", () => {
  expect(meanCumulativeFunction([{ to: 5, events: [] }])).toEqual([]);
  expect(() => meanCumulativeFunction([{ to: 5, events: [6] }])).toThrow(RangeError);
  expect(() => meanCumulativeFunction([{ from: 5, to: 5, events: [] }])).toThrow(RangeError);
});
