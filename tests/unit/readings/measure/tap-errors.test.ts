import { expect, test } from "vitest";
import { constantTaps } from "@/lib/readings/measure/constant-tap";
import { groupResistance } from "@/lib/readings/measure/group-resistance";
import { packSum } from "@/lib/readings/measure/pack-sum";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { tapErrors } from "@/lib/readings/measure/tap-errors";
import { tapRowKind } from "@/lib/readings/measure/tap-row";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { buildLog, constant, evenTimes } from "../../../support/log-builder";

/** Twenty groups at 3.700 V for 100 rows; some rows with the given values in two groups. */
function twentyGroups(rows: readonly number[], seventh: number, eighth: number, packV = 74): ReadingLog {
  const cells = Array.from({ length: 20 }, () => constant(100, 3.7));
  for (const row of rows) {
    const [six, seven] = [cells[6], cells[7]];
    if (six !== undefined) six[row] = seventh;
    if (seven !== undefined) seven[row] = eighth;
  }
  return buildLog({
    timeS: evenTimes(100, 1),
    currentA: constant(100, 0),
    packVoltageV: constant(100, packV),
    cellVoltagesV: cells,
  });
}

function tapsOf(log: ReadingLog) {
  const survey = surveyRows(log, 40);
  return tapErrors(survey, new Float64Array(survey.groups), packSum(survey), null);
}

test("a tap 0.6 V off reads 4.300 V and 3.100 V while the sum stays 74.000 V", () => {
  // Closed form: node error d moves V7 by +d and V8 by -d.
  const log = twentyGroups([20, 40, 60], 4.3, 3.1);
  const sum = log.cellVoltagesV.reduce((total, cell) => total + (cell[20] ?? 0), 0);
  expect(sum).toBeCloseTo(74, 9);
  expect(tapsOf(log)).toMatchObject([{ kind: "tap", groups: [7, 8], rows: 3 }]);
  expect(tapsOf(log)[0]?.worstV).toBeCloseTo(0.6, 9);
});

test("two rows are not enough, three are", () => {
  expect(tapsOf(twentyGroups([20, 40], 4.3, 3.1))).toEqual([]);
  expect(tapsOf(twentyGroups([20, 40, 41], 4.3, 3.1))).toHaveLength(1);
});

test("a published case: groups read 4.87 and 2.57 V, their mean is that of the others", () => {
  // Values from an issue thread on an open-source monitor, "Balancing abormality", September 2019: (4.87 + 2.57) / 2 = 3.72.
  expect((4.87 + 2.57) / 2).toBeCloseTo(3.72, 9);
  expect(tapsOf(twentyGroups([10, 30, 50, 70], 4.87, 2.57))).toMatchObject([{ groups: [7, 8] }]);
});

test("a group that falls alone is not a tap", () => {
  expect(tapsOf(twentyGroups([20, 40, 60], 3.7, 3.1))).toEqual([]);
});

test("the first group alone is an end tap only when the sum moves against the pack voltage", () => {
  const deviations = new Float64Array(20);
  deviations[0] = 0.3;
  expect(tapRowKind(deviations, 0.05, 0.3, 0.005)).toMatchObject({ kind: "end tap", groups: [1] });
  expect(tapRowKind(deviations, 0.05, 0, 0.005)).toBeNull();
  expect(tapRowKind(deviations, 0.05, Number.NaN, Number.POSITIVE_INFINITY)).toBeNull();
});

test("two broken taps in a row move three groups whose sum is right", () => {
  const deviations = new Float64Array(20);
  deviations.set([0.3, -0.5, 0.2], 4);
  expect(tapRowKind(deviations, 0.05, 0, 0.005)).toMatchObject({ kind: "two taps", groups: [5, 6, 7] });
});

test("two taps of which one is off by more are not taken for the pair it makes with the group in the middle", () => {
  const deviations = new Float64Array(20);
  deviations.set([0.068, -0.102, 0.036], 4);
  expect(tapRowKind(deviations, 0.05, 0, 0.005)).toMatchObject({ kind: "two taps", groups: [5, 6, 7] });
  // A pair beside which another group stands a little off stays a pair.
  deviations.set([0.3, -0.29, 0.03], 4);
  expect(tapRowKind(deviations, 0.05, 0, 0.005)).toMatchObject({ kind: "tap", groups: [5, 6] });
});

test("a wire at the end of the stack is told by the sum of the groups also where no current was logged", () => {
  const log = twentyGroups([], 3.7, 3.7);
  for (const row of [20, 21, 40, 60]) log.cellVoltagesV.at(-1)?.fill(3.4, row, row + 1);
  const unlogged = { ...log, currentA: new Float64Array(100).fill(Number.NaN) };
  expect(tapsOf(unlogged)).toMatchObject([{ kind: "end tap", groups: [20], rows: 4 }]);
});

test("two neighbours that mirror each other to a millivolt in every row are a displaced tap, in a pack that stood as well", () => {
  const everyRow = Array.from({ length: 100 }, (_, row) => row);
  const off = (up: number, down: number) => constantTaps(surveyRows(twentyGroups(everyRow, 3.7 + up, 3.7 - down), 40));
  expect(off(0.108, 0.107)).toMatchObject([{ kind: "constant", groups: [7, 8] }]);
  // Two groups charged otherwise, one up and one down, do not mirror each other.
  expect(off(0.108, 0.098)).toEqual([]);
  expect(off(0.06, 0.06)).toEqual([]);
});

test("a truncated frame is no tap and no resistance", () => {
  const log = twentyGroups([], 3.7, 3.7);
  for (const cell of log.cellVoltagesV.slice(9)) cell.fill(0, 50, 55);
  expect(tapsOf(log)).toEqual([]);
  expect(groupResistance(surveyRows(log, 40)).outcome).toBe("refused");
});
