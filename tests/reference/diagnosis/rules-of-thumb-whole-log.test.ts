import { expect, test } from "vitest";
import { reportReadings } from "@/lib/diagnosis/reading-report";
import { logOf, tableText } from "@/tests/support/pack-file";
import { plainModel } from "@/tests/support/plain-model";
import { simulatePack } from "@/tests/support/plain-pack";

/**
 * The rules of thumb of the trade once more, this time as somebody would meet them: a whole file of a pack of 20 groups of 57 Ah is decoded
 * and diagnosed, and what is printed is held against them. Common practice, no source, each of them.
 */
const GROUPS = 20;
const CAPACITY_AH = 57;
/** A: 18 to 20 kW at the 72 V such a pack has in the middle. */
const RIDE_A = 264;

const model = {
  ...plainModel,
  groups: GROUPS,
  ratedCapacityAh: CAPACITY_AH,
  continuousDischargeA: 6 * CAPACITY_AH,
  peakDischargeA: 8 * CAPACITY_AH,
  chargeMaxA: CAPACITY_AH,
  groupResistanceMilliohm: 0.7,
};

function fileOfTheTrade(): string {
  const log = simulatePack({
    seed: 20,
    model,
    startPercent: 99,
    intervalS: 2,
    outsideMilliohm: 1,
    probes: 2,
    acts: [
      { act: "rest", hours: 1 },
      { act: "ride", minutes: 8, meanA: 0.6 * RIDE_A, peakA: RIDE_A },
      { act: "rest", hours: 0.5 },
      { act: "discharge", currentA: CAPACITY_AH / 2, toPercent: 1 },
      { act: "rest", hours: 3 },
      { act: "charge", currentA: 15, toPercent: 99 },
      { act: "rest", hours: 3 },
    ],
  });
  const cells = log.cellVoltagesV.map((_, at) => `Cell ${String(at + 1).padStart(2, "0")} Voltage / V`);
  const probes = log.temperatures.map(({ name }) => `${name} / degC`);
  const rows = Array.from(log.timeS, (timeS, row) => [
    timeS,
    (log.packVoltageV?.[row] ?? 0).toFixed(2),
    (log.currentA?.[row] ?? 0).toFixed(2),
    ...log.cellVoltagesV.map((cell) => (cell[row] ?? 0).toFixed(3)),
    ...log.temperatures.map(({ valuesC }) => (valuesC[row] ?? 0).toFixed(1)),
  ]);
  return tableText(["Test Time / s", "Voltage / V", "Current / A", ...cells, ...probes], rows);
}

const { diagnosis } = reportReadings(logOf(fileOfTheTrade()), model);

/** A number that was taken from the file; of the groups the mean. */
function measured(name: string, of: "pack" | "groups" = "pack"): number {
  const values = diagnosis.measurements
    .filter((measurement) => measurement.name === name && (measurement.group === null) === (of === "pack"))
    .map(({ value }) => value);
  if (values.length !== (of === "pack" ? 1 : GROUPS)) throw new Error(`${name}: ${values.length} values of the ${of}`);
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

test("about 15 milliohm for the pack and 0.7 for a group are read from its load steps (common practice, no source)", () => {
  expect(measured("resistance-10s")).toBeGreaterThan(14);
  expect(measured("resistance-10s")).toBeLessThan(16.5);
  expect(Math.abs(measured("resistance-10s", "groups") - 0.7)).toBeLessThan(0.05);
});

test("at 18 to 20 kW it sags about 4 V by what was read (common practice, no source)", () => {
  for (const watt of [18_000, 20_000]) {
    const sagV = ((watt / 72) * measured("resistance-10s")) / 1000;
    expect(Math.abs(sagV - 4)).toBeLessThan(0.5);
  }
});

test("a full charge of it is about 4.1 kWh, and its groups hold 57 Ah (common practice, no source)", () => {
  expect(Math.abs(measured("energy-charged") / 1000 - 4.1)).toBeLessThan(0.15);
  expect(Math.abs(measured("capacity-between-rests", "groups") - CAPACITY_AH)).toBeLessThan(1);
});

test("neither 15 A from the charger nor 264 A for a moment is misuse, and nothing is at fault (common practice, no source)", () => {
  expect(diagnosis.findings.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
  expect(diagnosis.suggestion.remedy).toBe("return-as-is");
});
