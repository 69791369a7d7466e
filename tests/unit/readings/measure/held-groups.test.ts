import { expect, test } from "vitest";
import { heldGroupRuns } from "@/lib/readings/measure/held-groups";
import { openCircuitCurve } from "@/lib/readings/measure/open-circuit";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { buildLog, constant, evenTimes } from "../../../support/log-builder";
import { plainModel } from "../../../support/plain-model";

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
  const [run, ...more] = heldGroupRuns(surveyed(100, 300, inSteps), null);
  expect(more).toEqual([]);
  expect(run).toMatchObject({ fromRow: 100, toRow: 300, durationS: 2000 });
  expect(run?.groupsOnly?.flowedAh).toBeCloseTo(11.1, 0);
});

test("groups that stand still from the first row to the last are found as well", () => {
  expect(heldGroupRuns(surveyed(0, rows - 1, inSteps), null)).toHaveLength(1);
});

test("groups at rest may repeat themselves, and live ones do not for long", () => {
  expect(
    heldGroupRuns(
      surveyed(100, 300, () => 0),
      null,
    ),
  ).toEqual([]);
  expect(heldGroupRuns(surveyed(0, 0, inSteps), null)).toEqual([]);
  expect(heldGroupRuns(surveyed(100, 112, inSteps), null)).toEqual([]);
});

/** An iron phosphate curve: 1 mV per % over the middle. */
const flatCurve = openCircuitCurve({
  ...plainModel,
  cellMaxV: 3.65,
  cellMinV: 2.5,
  openCircuit: [
    [0, 2.5],
    [5, 3.1],
    [15, 3.24],
    [30, 3.28],
    [70, 3.32],
    [95, 3.35],
    [100, 3.65],
  ],
});

/** Eight groups in steps of 5 mV that stand at 3.3 V while 8 A of 40 Ah flow, every ten seconds. */
function steadyOnTheFlat(heldRows: number) {
  const cellVoltagesV = Array.from({ length: 8 }, () =>
    Float64Array.from({ length: rows }, (_, row) =>
      row < 20 ? 3.305 : row <= 20 + heldRows ? 3.3 : 3.29 + 0.005 * (row % 2),
    ),
  );
  return surveyRows(buildLog({ timeS: evenTimes(rows, 10), currentA: constant(rows, -8), cellVoltagesV }), 40);
}

test("on the flat of its curve a cell read in steps of 5 mV keeps its value while 4 % of its charge flow, and not while 25 % do", () => {
  expect(heldGroupRuns(steadyOnTheFlat(72), flatCurve)).toEqual([]);
  expect(heldGroupRuns(steadyOnTheFlat(450), flatCurve)).toHaveLength(1);
});

test("without a curve only a charge over which no cell keeps its voltage tells a steady current's held groups", () => {
  expect(heldGroupRuns(steadyOnTheFlat(450), null)).toEqual([]);
});
