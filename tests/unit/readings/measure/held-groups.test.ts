import { expect, test } from "vitest";
import { heldGroupRuns } from "@/lib/readings/measure/held-groups";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { buildLog, constant, evenTimes } from "../../../support/log-builder";

const rows = 600;

/** Eight groups under load in steps of 40 A, every ten seconds; all groups hold one value over the rows given. */
function surveyed(heldFrom: number, heldTo: number, load: (row: number) => number) {
  const currentA = Float64Array.from({ length: rows }, (_, row) => load(row));
  const cellVoltagesV = Array.from({ length: 8 }, (_, group) => {
    const live = currentA.map(
      (amp, row) => Math.round(1000 * (3.8 - 0.0001 * row + 0.001 * amp + 0.0003 * group)) / 1000,
    );
    return live.map((volt, row) => (row >= heldFrom && row <= heldTo ? (live[heldFrom] ?? volt) : volt));
  });
  const log = buildLog({ timeS: evenTimes(rows, 10), currentA, packVoltageV: constant(rows, 30.4), cellVoltagesV });
  return surveyRows(log, 40);
}

const inSteps = (row: number) => (row % 10 < 5 ? -40 : 0);

test("groups that all stand still while the load changes are old values, whatever else goes on", () => {
  const [run, ...more] = heldGroupRuns(surveyed(100, 300, inSteps));
  expect(more).toEqual([]);
  expect(run).toMatchObject({ fromRow: 100, toRow: 300, durationS: 2000 });
  expect(run?.groupsOnly?.flowedAh).toBeCloseTo(11.1, 0);
});

test("groups that stand still from the first row to the last are found as well", () => {
  expect(heldGroupRuns(surveyed(0, rows - 1, inSteps))).toHaveLength(1);
});

test("groups at rest may repeat themselves, and live ones do not for long", () => {
  expect(heldGroupRuns(surveyed(100, 300, () => 0))).toEqual([]);
  expect(heldGroupRuns(surveyed(0, 0, inSteps))).toEqual([]);
  expect(heldGroupRuns(surveyed(100, 112, inSteps))).toEqual([]);
});
