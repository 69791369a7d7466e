import { expect, test } from "vitest";
import { harmfulUse } from "@/lib/readings/measure/harmful-use";
import { leakCurrentA, shortOhm } from "@/lib/readings/measure/leak-current";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { buildLog } from "../../../support/log-builder";

const limits = { chargeMinTemperatureC: 0, hotC: 45, fullV: 4.08, fullPercent: 90 };

/** Two hours at one-minute rows: the first at 10 A, the second at rest. */
function use(warmC: number, groupV: number) {
  const minutes = Array.from({ length: 121 }, (_, minute) => minute);
  const constant = (value: number) => Float64Array.from(minutes, () => value);
  const log = buildLog({
    timeS: minutes.map((minute) => minute * 60),
    currentA: Float64Array.from(minutes, (minute) => (minute <= 60 ? 10 : 0)),
    packVoltageV: constant(4 * groupV),
    cellVoltagesV: [constant(groupV), constant(groupV), constant(groupV), constant(groupV)],
    temperatures: [{ name: "Temperature T1", valuesC: constant(warmC) }],
  });
  const probes = log.temperatures.map(({ valuesC }) => valuesC);
  return harmfulUse(surveyRows(log, 40), probes, limits);
}

test("an hour at 10 A in the frost is 10 Ah of cold charge", () => {
  expect(use(-5, 3.8)?.coldChargeAh).toBeCloseTo(10, 6);
  expect(use(1, 3.8)?.coldChargeAh).toBe(0);
});

test("an hour of rest at 50 degC is hot and full only where the pack is nearly full", () => {
  expect((use(50, 4.1)?.hotAndFullS ?? 0) / 3600).toBeCloseTo(1, 1);
  expect(use(50, 3.8)?.hotAndFullS).toBe(0);
  expect(use(40, 4.1)?.hotAndFullS).toBe(0);
});

test("a log without a temperature tells neither", () => {
  const log = buildLog({ timeS: [0, 60], currentA: Float64Array.of(1, 1), cellVoltagesV: [Float64Array.of(3.8, 3.8)] });
  expect(harmfulUse(surveyRows(log, 40), [], limits)).toBeNull();
});

// diagnostics.md 1.11, table for 20 Ah at 9.65 mV per % (computed there): drift, mA, equivalent ohm. The ohms are at 3.75 V.
test.each([
  [0.5, 0.43, 8687],
  [2, 1.73, 2172],
  [5, 4.3, 869],
  [43, 37, 101],
])("%d mV a day is a leak of %d mA through %d ohm", (millivolt, milliampere, ohm) => {
  const leakA = leakCurrentA(20, millivolt / 1000, 0.00965) ?? Number.NaN;
  expect(Math.abs(leakA * 1000 - milliampere)).toBeLessThan(0.012 * milliampere);
  expect(Math.abs(shortOhm(3.75, leakA) - ohm)).toBeLessThan(0.012 * ohm);
});
