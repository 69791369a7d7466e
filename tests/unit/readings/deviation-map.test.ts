import { expect, test } from "vitest";
import { deviationMap } from "@/lib/readings/deviation-map";
import { deviationSentence, groupExtremes } from "@/lib/readings/deviation-summary";
import { buildLog, constant, evenTimes } from "@/tests/support/log-builder";

const plausible = [0.5, 5] as const;
const ROWS = 1200;

function mapOf(change: (columns: Float64Array[]) => void) {
  const cells = [3.7, 3.7, 3.71, 3.7, 3.69].map((volt) => constant(ROWS, volt));
  change(cells);
  const map = deviationMap(buildLog({ timeS: evenTimes(ROWS, 10), cellVoltagesV: cells }), plausible);
  if (map === null) throw new Error("no map");
  return map;
}

test("each group stands against the median of its row, in millivolt", () => {
  const map = mapOf(() => undefined);
  expect(map.rowsPerBucket).toBe(10);
  expect(map.groups.map(({ meanMillivolt }) => meanMillivolt[0])).toEqual([0, 0, 10, 0, -10]);
});

test("one bad row among ten is the field's value and never averaged away", () => {
  const map = mapOf((cells) => {
    const column = cells[1];
    if (column !== undefined) column[605] = 3.2;
  });
  expect(map.groups[1]?.farthestMillivolt[60]).toBe(-500);
  expect(map.groups[1]?.meanMillivolt[60]).toBe(-50);
  expect(groupExtremes(map)[1]).toMatchObject({ farthestMillivolt: -500, atS: 6000 });
  expect(deviationSentence(map)).toContain(
    "the farthest single row is group 2, 500 mV below it after about 1 h 40 min",
  );
});

test("frames cut short are not logged, neither low nor a deviation", () => {
  const map = mapOf((cells) => cells[4]?.fill(0, 100, 110));
  expect(map.groups[4]?.farthestMillivolt[10]).toBeNull();
  expect(map.groups[0]?.farthestMillivolt[10]).toBe(0);
});

test("two groups have no middle to stand against", () => {
  const two = buildLog({ timeS: [0, 1], cellVoltagesV: [constant(2, 3.7), constant(2, 3.6)] });
  expect(deviationMap(two, plausible)).toBeNull();
});
