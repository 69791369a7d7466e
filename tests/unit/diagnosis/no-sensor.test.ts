import { expect, test } from "vitest";
import { reportReadings } from "@/lib/diagnosis/reading-report";
import { logOf, tableText } from "@/tests/support/pack-file";
import { plainModel } from "@/tests/support/plain-model";

const groups = 4;
const headers = [
  "Test Time / s",
  "Voltage / V",
  "Current / A",
  ...Array.from({ length: groups }, (_, at) => `Cell 0${at + 1} Voltage / V`),
  "Temperature T1 / degC",
  "Temperature T2 / degC",
  "Temperature T3 / degC",
];

/** Ten hours at rest, a row every 20 s; three probes that read what `heatOf` says. */
function diagnosed(heatOf: (row: number) => number) {
  const rows = Array.from({ length: 1800 }, (_, row) => {
    const heat = Number(heatOf(row).toFixed(1));
    return [20 * row, 15.2, 0, ...Array.from({ length: groups }, () => 3.8), heat, heat, heat];
  });
  return reportReadings(logOf(tableText(headers, rows)), { ...plainModel, groups }).diagnosis;
}

const emergencies = (heatOf: (row: number) => number) =>
  diagnosed(heatOf).findings.filter(({ fault }) => fault === "acute-event");

test("what a board sends for no sensor while it wakes up is no heat, is counted and told, however long it stands", () => {
  for (const noSensor of [255, 511, 215]) {
    const { findings, measurements, suggestion } = diagnosed((row) => (row < 64 ? noSensor : 22));
    expect(findings.filter(({ safetyClass }) => safetyClass === "A0")).toEqual([]);
    expect(measurements.filter(({ name }) => name === "rows-without-temperature")).toMatchObject([
      { value: 64 },
      { value: 64 },
      { value: 64 },
    ]);
    expect(suggestion.reasons.join(" ") + suggestion.missing.join(" ")).not.toContain("has stood");
  }
  expect(emergencies((row) => (row > 900 && row < 1000 ? 255 : 22))).toEqual([]);
});

test("heat that led up to the end of what a probe can read stays an emergency, and so does what is hot and changes", () => {
  const runaway = (row: number) => (row < 900 ? 22 : Math.min(255, 22 + (row - 900) * 4));
  expect(emergencies(runaway)).toHaveLength(1);
  expect(emergencies((row) => (row < 300 ? 180 - row * 0.2 : 120))).toHaveLength(1);
  expect(emergencies((row) => (row < 300 ? 140 : 30))).toHaveLength(1);
});
