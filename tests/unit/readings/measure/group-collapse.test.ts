import { expect, test } from "vitest";
import { defaultAcuteGates } from "@/lib/readings/measure/acute-gates";
import { groupCollapses } from "@/lib/readings/measure/group-collapse";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { buildLog, evenTimes, probe } from "../../../support/log-builder";

const rows = 80;
const loadFrom = 60;

/**
 * Sixteen groups at 3.78 V, read four at a time every half minute with no current logged; from row 60 on a load takes 0.106 V of each, and the last four
 * read `lastFour` when they come to it.
 */
function readByTurns(lastFour: readonly number[]) {
  const cellVoltagesV = Array.from({ length: 16 }, (_, group) => {
    // Groups 9 to 12 are read first, 13 to 16 in the row after.
    const turn = (Math.floor(group / 4) + 2) % 4;
    return Float64Array.from({ length: rows }, (_, row) => {
      const readAt = row - ((row - turn + 4) % 4);
      if (readAt < loadFrom) return 3.78 + 0.001 * ((readAt + group) % 3);
      return group >= 12 && readAt === loadFrom + 1 ? (lastFour[group - 12] ?? 3.674) : 3.674;
    });
  });
  const packVoltageV = Float64Array.from({ length: rows }, (_, row) => (row < loadFrom ? 60.5 : 58.8));
  return surveyRows(buildLog({ timeS: evenTimes(rows, 30), packVoltageV, cellVoltagesV }), 22);
}

test("a wire that comes loose as a load begins is no collapse on a board that shows the load in a few groups first", () => {
  expect(groupCollapses(readByTurns([3.675, 3.864, 3.497, 3.678]), 0.03, defaultAcuteGates)).toEqual([]);
});

test("a group that fails at rest is a collapse on such a board too: nothing beside it falls or wins", () => {
  const survey = readByTurns([3.674, 3.674, 3.674, 3.674]);
  const failing = survey.log.cellVoltagesV[14];
  failing?.fill(3.3, 40);
  const packVoltageV = survey.log.packVoltageV.map((volt, row) => (row < 40 ? volt : volt - 0.48));
  const [sign] = groupCollapses(surveyRows({ ...survey.log, packVoltageV }, 22), 0.03, defaultAcuteGates);
  expect(sign).toMatchObject({ kind: "group-collapse", groups: [15], row: 40 });
});

/** Six groups at rest for ten hours, every 10 s, no pack voltage; group 3 reads as told, and one probe. */
function unwatched(thirdV: (row: number) => number, probeC: (row: number) => number) {
  const long = 3600;
  const column = (read: (row: number) => number) => Float64Array.from({ length: long }, (_, row) => read(row));
  return surveyRows(
    buildLog({
      timeS: evenTimes(long, 10),
      currentA: column(() => 0),
      cellVoltagesV: Array.from({ length: 6 }, (_, group) => column(group === 2 ? thirdV : () => 3.7)),
      temperatures: [probe("Temperature T1", column(probeC))],
    }),
    40,
  );
}

const signsOf = (survey: ReturnType<typeof unwatched>) =>
  groupCollapses(survey, Number.POSITIVE_INFINITY, defaultAcuteGates);
const lostAt = 1000;

test("a group that reads nothing at all through a calm hour, no pack voltage beside it, is no emergency: a lost wire, or dead", () => {
  const lost = (row: number) => (row < lostAt ? 3.7 : 0);
  expect(signsOf(unwatched(lost, () => 22))).toEqual([]);
  const warms = (row: number) => 22 + Math.max(0, Math.min(12, (row - lostAt) / 20));
  expect(signsOf(unwatched(lost, warms))).toMatchObject([{ groups: [3], confirmed: false, overS: 10 }]);
});

test("a group that falls and stands again where it stood is its reading, one that stays down by less is not", () => {
  const dips = (depthV: number, backV: number) => (row: number) =>
    row < lostAt ? 3.7 : row < lostAt + 60 ? 3.7 - depthV : 3.7 - backV;
  expect(signsOf(unwatched(dips(0.7, 0), () => 22))).toEqual([]);
  expect(signsOf(unwatched(dips(0.7, 0.5), () => 22))).toHaveLength(1);
});

/** Six groups every half minute, no current logged: a load of 40 mV at `loadAt`, then rest again; group 3 falls by 1.2 V at row 60. */
function restAfterLoad(loadAt: number) {
  const cellVoltagesV = Array.from({ length: 6 }, (_, group) =>
    Float64Array.from(
      { length: rows },
      (_, row) => (group === 2 && row >= 60 ? 2.5 : 3.7) - (row === loadAt ? 0.04 : 0),
    ),
  );
  return surveyRows(buildLog({ timeS: evenTimes(rows, 30), cellVoltagesV }), 22);
}

test.each([10, 30, 48, 52])(
  "a group that fails in a rest that is shorter than the time looked back over is a collapse: load in row %d",
  (loadAt) => {
    expect(signsOf(restAfterLoad(loadAt))).toMatchObject([{ groups: [3], row: 60 }]);
  },
);

test("readings in steps of 5 mV that flicker between two steps do not end a rest", () => {
  const flicker = (row: number) => (row % 2 === 0 ? 4.185 : 4.19);
  const cellVoltagesV = Array.from({ length: 6 }, () => Float64Array.from({ length: rows }, (_, row) => flicker(row)));
  const { restingS } = surveyRows(buildLog({ timeS: evenTimes(rows, 30), cellVoltagesV }), 22);
  expect(restingS.at(-1)).toBe(30 * (rows - 2));
});
