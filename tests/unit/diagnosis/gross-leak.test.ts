import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { summaryOf } from "../../support/log-builder";
import { type DoneToParked, parkedPack } from "../../support/parked-pack";
import { plainModel } from "../../support/plain-model";

/** So many hours parked, a row a minute. */
function judged(hours: number, done: (row: number, rows: number) => DoneToParked["cellV"], more: DoneToParked = {}) {
  const rows = 60 * hours;
  const log = parkedPack(rows, 60, { cellV: (row, group) => done(row, rows)?.(row, group) ?? 0, ...more });
  const { findings, suggestion, unseen } = diagnose({ log, summary: summaryOf(log), model: plainModel });
  return { leaks: findings.filter(({ fault }) => fault === "self-discharge"), findings, suggestion, unseen };
}

/** Group 7 falls from the first hour to the end by so much. */
function falling(byV: number) {
  return (row: number, rows: number) => (_: number, group: number) =>
    group === 6 ? (-byV * Math.max(0, row - 60)) / (rows - 60) : 0;
}

test("a group that falls by tens of mV within hours of rest is set apart, however short the rest", () => {
  for (const [hours, byV] of [
    [3, 0.1],
    [5, 0.15],
    [9, 0.1],
    [9.5, 0.18],
  ] as const) {
    const { leaks, suggestion } = judged(hours, falling(byV));
    expect(leaks, `${hours} h`).toMatchObject([{ groups: [7], safetyClass: "A1" }]);
    expect(leaks[0]?.evidenceFor[0]).toContain("the pack voltage falls with it");
    expect(suggestion.remedy).toBe("isolate");
  }
});

test("what relaxes fades, and is no leak", () => {
  const relaxing = (row: number) => (_: number, group: number) => (group === 6 ? 0.08 * Math.exp(-row / 40) : 0);
  expect(judged(6, relaxing).leaks).toEqual([]);
  expect(judged(9, falling(0.008)).leaks).toEqual([]);
});

test("a wire gives to the neighbour, or leaves the pack voltage where it was: no leak is told of it", () => {
  const rows = 60 * 6;
  const fall = (row: number) => (0.15 * Math.max(0, row - 60)) / rows;
  const tap = judged(6, () => (row, group) => (group === 6 ? -fall(row) : group === 7 ? fall(row) : 0));
  expect(tap.leaks).toEqual([]);
  const stands = judged(6, falling(0.15), { packV: (row) => (0.15 * Math.max(0, row - 60)) / (rows - 60) });
  expect(stands.leaks).toEqual([]);
});

test("all groups that settle together, or with the cold of the night, leak nothing", () => {
  expect(judged(9, (row) => () => -0.03 * (1 - Math.exp(-row / 120))).leaks).toEqual([]);
  expect(judged(9, (row) => (_, group) => -0.0004 * (group % 4) * (row / 540)).leaks).toEqual([]);
});

test("a drift of 1.4 mV a day is a fault of its group, and with a place that grows warmer meanwhile it sets the pack apart", () => {
  // The reference asks quarantine of any drift with warming, an engineering default.
  const hours = 72;
  const drift = falling((0.0014 * hours) / 24);
  const warming = (growsK: number) => ({
    warmK: (row: number, place: number) => (place === 1 ? (growsK * row) / (60 * hours) : 0),
  });
  const alone = judged(hours, drift, warming(0));
  expect(alone.leaks).toMatchObject([{ groups: [7], safetyClass: "B" }]);
  expect(alone.suggestion.remedy).not.toBe("isolate");
  const warm = judged(hours, drift, warming(4));
  expect(warm.leaks).toMatchObject([{ groups: [7], safetyClass: "A1" }]);
  expect(warm.suggestion.remedy).toBe("isolate");
  // So does the least that is more than usual: up to 1 mV a day is a sound group's, 1.11 of the reference.
  for (const [millivolt, days] of [
    [1.1, 3],
    [1.1, 7],
    [1.2, 1.5],
  ] as const) {
    const told = judged(24 * days, falling((millivolt / 1000) * days), {
      warmK: (row, place) => (place === 1 ? (4 * row) / (60 * 24 * days) : 0),
    });
    expect(told.leaks, `${millivolt} mV a day for ${days} days`).toMatchObject([{ groups: [7], safetyClass: "A1" }]);
    expect(told.suggestion.remedy).toBe("isolate");
  }
  const usual = judged(hours, falling((0.0008 * hours) / 24), warming(4));
  expect(usual.leaks).toEqual([]);
  expect(usual.suggestion.remedy).toBe("cannot-tell");
  // Warmth alone, no group falling, is no leak.
  expect(judged(hours, () => () => 0, warming(4)).leaks).toEqual([]);
});
