import { expect, test } from "vitest";
import { buildModels } from "@/seed/scenario/models";
import { plainStyle } from "@/seed/simulator/csv-style";
import { renderCsv } from "@/seed/simulator/render-csv";
import { simulateLog } from "@/seed/simulator/simulate-log";

const brindle = buildModels()[0];
if (brindle === undefined) {
  throw new RangeError("the scenario has no models");
}
const log = simulateLog({
  model: brindle.model,
  serial: "BR2338000X0",
  seed: 3,
  fault: { fault: "no-fault-found", groups: [], severity: "clear" },
  startUnixS: 1_780_000_000,
  ambientC: 18,
  cycleCount: 77,
  builtCapacityAh: 32.5,
  builtGroupResistanceMilliohm: [],
});

function table(csv: string, delimiter: string): string[][] {
  return csv
    .trimEnd()
    .split("\n")
    .filter((line) => !line.startsWith("#"))
    .map((line) => line.split(delimiter));
}

test("the plain style writes one row a reading under labels with units", () => {
  const rows = table(renderCsv(log, plainStyle), ",");
  expect(rows).toHaveLength(log.timeS.length + 1);
  expect(rows[0]?.slice(0, 4)).toEqual(["Unix Time / s", "Voltage / V", "Current / A", "Cell 01 Voltage / V"]);
  expect(rows[0]?.slice(-5)).toEqual([
    "Cycle Count / 1",
    "Charge Switch / 1",
    "Discharge Switch / 1",
    "Balancing Mask / 1",
    "Protection Flags / 1",
  ]);
  expect(rows.every((row) => row.length === rows[0]?.length)).toBe(true);
  expect(Number(rows[1]?.[0])).toBe(1_780_000_060);
  expect(Number(rows[1]?.[3])).toBeCloseTo(log.cellV[0]?.[0] ?? 0, 9);
});

test("the preamble names the pack", () => {
  expect(renderCsv(log, plainStyle).split("\n")[0]).toBe("# Serial: BR2338000X0");
});

test("a decimal comma and millivolts change the writing and not the values", () => {
  const rows = table(renderCsv(log, { ...plainStyle, delimiter: ";", decimalComma: true, cellUnit: "mV" }), ";");
  expect(rows[0]?.[3]).toBe("Cell 01 Voltage / mV");
  expect(Number(rows[9]?.[3])).toBeCloseTo(1000 * (log.cellV[0]?.[8] ?? 0), 6);
  expect(Number(rows[9]?.[1]?.replace(",", "."))).toBeCloseTo(log.packV[8] ?? 0, 9);
});

test("the turned sign comes under a header that promises none", () => {
  const rows = table(renderCsv(log, { ...plainStyle, currentSign: "discharge-positive" }), ",");
  expect(rows[0]?.[2]).toBe("Current [A]");
  const strongest = log.currentA.indexOf(log.currentA.reduce((a, b) => Math.min(a, b)));
  expect(Number(rows[strongest + 1]?.[2])).toBeCloseTo(-(log.currentA[strongest] ?? 0), 9);
});

test("left-out columns are gone from the header and the rows", () => {
  const rows = table(renderCsv(log, { ...plainStyle, omit: ["flags", "balancing", "stage"] }), ",");
  expect(rows[0]).not.toContain("Protection Flags / 1");
  expect(rows[1]).toHaveLength(rows[0]?.length ?? 0);
});

test("a clock reset writes one row with time 0, and a cut-off last row is short", () => {
  const rows = table(renderCsv(log, { ...plainStyle, clockResetRow: true, truncatedRow: true }), ",");
  expect(rows.slice(1).filter((row) => row[0] === "0")).toHaveLength(1);
  expect(rows.at(-1)?.length).toBeLessThan(rows[0]?.length ?? 0);
});
