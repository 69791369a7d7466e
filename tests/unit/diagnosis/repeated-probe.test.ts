import { describe, expect, test } from "vitest";
import { reportReadings } from "@/lib/diagnosis/reading-report";
import { logOf, tableText } from "../../support/pack-file";
import { plainModel } from "../../support/plain-model";

// Monitors write the highest, lowest or mean of their probes as a column beside them (common practice, no source).

const rows = 560;

/** A resting pack, a row a second: what two probes read, and what stands beside them under a name of its own. */
function judged(
  firstC: (row: number) => number,
  secondC: (row: number) => number,
  beside?: readonly [string, (first: number, second: number) => number],
) {
  const cells = Array.from({ length: 16 }, (_, at) => `Cell ${at + 1} (V)`);
  const headers = ["Test Time / s", "Voltage / V", "Current / A", ...cells, "T1 (C)", "T2 (C)"];
  const lines = Array.from({ length: rows }, (_, row) => {
    const [first, second] = [firstC(row), secondC(row)];
    const read = [row, 16 * 3.9, 0, ...cells.map(() => 3.9), first.toFixed(1), second.toFixed(1)];
    return beside === undefined ? read : [...read, beside[1](first, second).toFixed(1)];
  });
  const text = tableText(beside === undefined ? headers : [...headers, `${beside[0]} (C)`], lines);
  const { findings } = reportReadings(logOf(text), plainModel).diagnosis;
  return findings.map(({ fault, safetyClass }) => `${fault} ${safetyClass}`);
}

const warmest = (first: number, second: number) => Math.max(first, second);
const repeats = [
  ["Battery Temperature", warmest],
  ["Max Temp", (first: number, second: number) => Math.round(warmest(first, second))],
  ["Mean Temp", (first: number, second: number) => (first + second) / 2],
] as const;
/** Hot for six seconds from one row to the next, and cooler again over the next three. */
const leapt = (row: number, highestC: number) => {
  if (row < 400 || row >= 409) return 28;
  return row < 406 ? highestC : 60 - (row - 406) * 8;
};
const still = (row: number) => 27.5 + (row % 3) * 0.1;

describe.each(repeats)("with %s beside the two probes", (...beside) => {
  test("a leap of six seconds of one probe is a fault of the probe and no emergency by its own copy", () => {
    const leap = (row: number) => leapt(row, 95);
    expect(judged(leap, still, beside)).toEqual(judged(leap, still));
    expect(judged(leap, still, beside).join()).not.toContain("acute-event");
  });

  test("a probe that jumps is found as without it", () => {
    const jumps = (row: number) => (row > 200 && row % 40 < 3 ? 70 : 28);
    expect(judged(jumps, still)).toContain("temperature-sensor B");
    expect(judged(jumps, still, beside)).toEqual(judged(jumps, still));
  });
});

test("two probes that leap together are an emergency as without it", () => {
  const leap = (row: number) => leapt(row, 95);
  const other = (row: number) => leapt(row, 82);
  expect(judged(leap, other, ["Battery Temperature", warmest])).toContain("acute-event A0");
});

test("a rise of the pack is an emergency as without it", () => {
  const rises = (row: number) => 28 + Math.max(0, row - 420) * 0.2;
  expect(judged(rises, still, ["Battery Temperature", warmest])).toContain("acute-event A0");
});

test("a probe without a number that reads heat of its own is a witness like any other", () => {
  const leap = (row: number) => leapt(row, 95);
  const ownHeat = (row: number) => (row < 406 ? leapt(row, 84) : row < 409 ? 56 : 28);
  let row = -1;
  const followsWithDifference = () => {
    row += 1;
    return ownHeat(row);
  };
  expect(judged(leap, () => 28, ["Cell Temperature", followsWithDifference])).toContain("acute-event A0");
});
