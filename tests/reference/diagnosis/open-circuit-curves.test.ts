import { expect, test } from "vitest";
import { openCircuitCurve, slopeAtSoc, socAtVoltage, voltageAtSoc } from "@/lib/readings/measure/open-circuit";
import { type CheckRow, numberIn, readCheckTable } from "../../support/check-table";
import { plainModel } from "../../support/plain-model";

// Half-cell fits as coded in PyBaMM @7c9f5bd (BSD-3), parameter sets Chen2020 and Ecker2015, solved between 2.5 and 4.2 V by an
// independent script.
const chen = readCheckTable("readings/data/ocv_soc_chen2020.csv");
const ecker = readCheckTable("readings/data/ocv_soc_ecker2015.csv");

/** Charge in % and voltage in V of one row of a table. */
function knotOf(row: CheckRow): [number, number] {
  return [numberIn(row, "soc_percent"), numberIn(row, "ocv_volt")];
}

function curveOf(table: typeof chen) {
  const openCircuit = (table ?? []).map(knotOf);
  const curve = openCircuitCurve({ ...plainModel, openCircuit });
  if (curve === null) throw new Error("no curve");
  return curve;
}

test.skipIf(chen === null || ecker === null)(
  "one voltage is a different charge on another curve: 3.60, 3.70 and 3.80 V",
  () => {
    for (const [volt, onChen, onEcker] of [
      [3.6, 32.0, 20.9],
      [3.7, 44.3, 29.1],
      [3.8, 55.2, 55.6],
    ] as const) {
      // The tables have knots every 5 %: straight lines between them miss the fits by a few tenths of a percent.
      expect(Math.abs(socAtVoltage(curveOf(chen), volt) - onChen)).toBeLessThan(0.5);
      expect(Math.abs(socAtVoltage(curveOf(ecker), volt) - onEcker)).toBeLessThan(0.5);
    }
  },
);

test.skipIf(chen === null)("every knot of the table comes back in both directions", () => {
  const curve = curveOf(chen);
  for (const [percent, volt] of (chen ?? []).map(knotOf)) {
    expect(voltageAtSoc(curve, percent)).toBeCloseTo(volt, 9);
    expect(socAtVoltage(curve, volt)).toBeCloseTo(percent, 9);
  }
});

test.skipIf(chen === null)("the curve is steep at 5 % and nearly flat at 90 %", () => {
  // Slopes of the fits: 51.7 mV per % at 5 %, 9.65 at 50 %, 2.2 at 90 %; ours are taken over 5 %.
  const curve = curveOf(chen);
  expect(slopeAtSoc(curve, 50) * 1000).toBeCloseTo(9.3, 0);
  expect(slopeAtSoc(curve, 90) * 1000).toBeLessThan(5);
  expect(slopeAtSoc(curve, 5) * 1000).toBeGreaterThan(40);
});

test("the built-in generic curve is the published Chen2020 one", () => {
  const { openCircuit: _, ...unknown } = plainModel;
  const curve = openCircuitCurve(unknown);
  expect(curve?.source).toBe("generic NMC");
  // Values of PyBaMM Chen2020 @7c9f5bd, computed.
  for (const [soc, volt] of [
    [0, 2.5],
    [10, 3.2959],
    [20, 3.4852],
    [50, 3.7509],
    [70, 3.9479],
    [90, 4.0967],
    [100, 4.2],
  ] as const) {
    expect(curve && voltageAtSoc(curve, soc)).toBeCloseTo(volt, 9);
  }
});

test("no generic curve stands in for cells of another charge limit", () => {
  const { openCircuit: _, ...unknown } = plainModel;
  expect(openCircuitCurve({ ...unknown, cellMaxV: 3.65 })).toBeNull();
});
