import { expect, test } from "vitest";
import { extremeGroups, extremesAsLogged } from "@/lib/readings/extreme-groups";
import { frozenRuns } from "@/lib/readings/measure/frozen-values";
import { readPlausibleRows } from "@/lib/readings/measure/plausible-rows";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { buildLog, evenTimes } from "@/tests/support/log-builder";
import { seededRandom } from "@/tests/support/seeded-random";

// What runs over every value of a file is written for speed; here it is held against the definition written out plainly.

const plausibleV: readonly [number, number] = [0.5, 5];

/** Groups of a few mV apart that move together, with sentinels, missing values and rows cut off among them. */
function awkwardGroups(seed: number, groups: number, rows: number): Float64Array[] {
  const random = seededRandom(seed);
  const awkward = [0, Number.NaN, 66.535, Number.POSITIVE_INFINITY, -0.1];
  return Array.from({ length: groups }, () =>
    Float64Array.from({ length: rows }, (_, row) => {
      if (random() < 0.02) return awkward[Math.floor(random() * awkward.length)] ?? 0;
      return Number((3.6 + 0.3 * Math.sin(row / 90) + 0.01 * random()).toFixed(3));
    }),
  );
}

function middleOf(sorted: readonly number[]): number {
  const [lower = Number.NaN, upper = Number.NaN] = [sorted[(sorted.length - 1) >> 1], sorted[sorted.length >> 1]];
  return (lower + upper) / 2;
}

test("median and extremes of the plausible groups of a row are those of the sorted row", () => {
  for (const groups of [1, 2, 13, 20, 24]) {
    const cells = awkwardGroups(groups, groups, 700);
    const read = readPlausibleRows(cells, 700, plausibleV);
    for (let row = 0; row < 700; row += 1) {
      const sorted = cells
        .map((cell) => cell[row] ?? Number.NaN)
        .filter((volt) => volt >= plausibleV[0] && volt <= plausibleV[1])
        .sort((a, b) => a - b);
      expect(read.plausibleGroups[row]).toBe(sorted.length);
      expect(read.lowestV[row]).toBe(sorted[0] ?? Number.NaN);
      expect(read.highestV[row]).toBe(sorted.at(-1) ?? Number.NaN);
      expect(read.referenceV[row]).toBe(sorted.length * 2 >= groups ? middleOf(sorted) : Number.NaN);
    }
  }
});

test("extremes as logged, from the plausible ones, are those of all the groups looked through", () => {
  const cells = awkwardGroups(7, 20, 1500);
  const read = readPlausibleRows(cells, 1500, plausibleV);
  const plausible = { lowest: read.lowestV, highest: read.highestV };
  expect(extremesAsLogged(cells, plausible, read.plausibleGroups)).toEqual(extremeGroups(cells, 1500));
});

test("a reading is held from its 21st row on, wherever in the log it stands", () => {
  const rows = 300;
  const moving = (row: number) => 3.6 + 0.03 * (row % 5);
  for (let from = 0; from < 60; from += 1) {
    for (const length of [20, 21, 35, rows - from]) {
      const cells = Array.from({ length: 5 }, (_, group) =>
        Float64Array.from({ length: rows }, (_, row) => moving(row) + group / 1000),
      );
      cells[2]?.fill(3.66, from, from + length);
      const log = buildLog({ timeS: evenTimes(rows, 1), cellVoltagesV: cells });
      const found = frozenRuns(surveyRows(log, 40)).map(({ group, fromRow, toRow }) => ({ group, fromRow, toRow }));
      const held = { group: 3, fromRow: from, toRow: from + length - 1 };
      expect(found).toEqual(length > 20 ? [held] : []);
    }
  }
});

test("a held reading ends where the clock is set", () => {
  const cells = Array.from({ length: 5 }, (_, group) =>
    Float64Array.from({ length: 60 }, (_, row) => (group === 1 ? 3.6 : 3.6 + 0.03 * (row % 5) + group / 1000)),
  );
  const segment = Int32Array.from({ length: 60 }, (_, row) => (row < 25 ? 0 : row < 40 ? 1 : 2));
  const log = buildLog({ timeS: evenTimes(60, 1), segment, cellVoltagesV: cells });
  expect(frozenRuns(surveyRows(log, 40))).toMatchObject([{ group: 2, fromRow: 0, toRow: 24 }]);
});
