import { expect, test } from "vitest";
import { frozenRuns } from "@/lib/readings/measure/frozen-values";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { buildLog, evenTimes } from "@/tests/support/log-builder";

const rows = 160;
const held = 120;

/** Five groups at the end of a charge, 1 row a second, in steps of 5 mV: four climb by 180 mV while the second reads 3.335 V. */
function endOfCharge(afterwards: (row: number) => number) {
  const toStep = (volt: number) => Math.round(volt / 0.005) * 0.005;
  return buildLog({
    timeS: evenTimes(rows, 1),
    cellVoltagesV: Array.from({ length: 5 }, (_, group) =>
      Float64Array.from({ length: rows }, (_, row) => {
        if (group !== 1) return toStep(3.34 + 0.0015 * row + 0.002 * group);
        return toStep(row < held ? 3.335 : afterwards(row));
      }),
    ),
  });
}

const found = (log: ReturnType<typeof endOfCharge>) =>
  frozenRuns(surveyRows(log, 18)).map(({ group, fromRow, toRow }) => ({ group, fromRow, toRow }));

test("a group that lies on the flat of its curve while the others climb is not frozen", () => {
  expect(found(endOfCharge((row) => 3.335 + 0.0006 * (row - held)))).toEqual([]);
});

test("one that leaps after the others when the run ends was frozen", () => {
  expect(found(endOfCharge((row) => 3.34 + 0.0015 * row))).toEqual([{ group: 2, fromRow: 0, toRow: held - 1 }]);
});
