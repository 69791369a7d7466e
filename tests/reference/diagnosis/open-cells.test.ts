import { expect, test } from "vitest";
import { fullDischarge } from "@/lib/readings/measure/discharge-capacity";
import { equivalentFullCycles } from "@/lib/readings/measure/equivalent-full-cycles";
import { loadSteps, stepResistanceOhm } from "@/lib/readings/measure/load-step-resistance";
import { meanCurrentA } from "@/lib/readings/measure/rest-current-offset";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { steepestRiseKPerMin, widestTemperatureSpreadK } from "@/lib/readings/measure/temperature-rates";
import { theilSenSlope } from "@/lib/readings/measure/theil-sen";
import { repairTime } from "@/lib/readings/time-repair";
import { column, readCheckColumns } from "../../support/check-columns";
import { buildLog } from "../../support/log-builder";

// SINTEF rate test of a high-power pouch cell, Zenodo record 17295469, in battery-data-alliance/battery-data-format @1412b98. Values
// computed from the file by an independent script, voltage before the step being the rested one.
const rateTest = readCheckColumns(
  "readings/data/SINTEF__SLPBA842124HV__2024-10-23__Rate_25degC__Neware__Time_Bug.bdf.csv",
);
const stepTable = [
  { index: 8, r1: 3.384, r10: 6.397, r30: 9.863 },
  { index: 12, r1: 3.517, r10: 6.305, r30: 9.503 },
  { index: 16, r1: 3.586, r10: 6.076, r30: 8.272 },
  { index: 21, r1: 3.515, r10: 5.715, r30: 7.367 },
] as const;

function pouchCell() {
  if (rateTest === null) throw new Error("the open rate test is absent");
  const { timeS } = repairTime(column(rateTest, "test_time_second"), null);
  return {
    timeS,
    currentA: column(rateTest, "current_ampere"),
    voltageV: column(rateTest, "voltage_volt"),
    step: column(rateTest, "step_index"),
    probes: [1, 2, 3].map((probe) => column(rateTest, `temperature_t${probe}_celsius`)),
  };
}

test.skipIf(rateTest === null)(
  "resistance of the pouch cell 1, 10 and 30 s after a step from rest, four currents",
  () => {
    const { timeS, currentA, voltageV, step } = pouchCell();
    const gates = { leastChangeA: 5, withinS: 2, steadyBeforeS: 10, steadyShare: 0.05 };
    const found = loadSteps(timeS, currentA, new Int32Array(timeS.length), gates);
    // This logger writes on a change of voltage: up to 10 s lie between samples, bridged by a straight line as in the check.
    const anyVoltage = [0, 5] as const;
    for (const { index, r1, r10, r30 } of stepTable) {
      const at = found.find(({ row, toA }) => step[row] === index && toA < 0);
      if (at === undefined) throw new Error(`step ${index} not found`);
      const milliohm = (afterS: number) =>
        1000 * (stepResistanceOhm(timeS, currentA, voltageV, at, afterS, anyVoltage, 12) ?? Number.NaN);
      expect(Math.abs(milliohm(1) - r1), `step ${index} at 1 s`).toBeLessThan(0.01);
      expect(Math.abs(milliohm(10) - r10), `step ${index} at 10 s`).toBeLessThan(0.01);
      expect(Math.abs(milliohm(30) - r30), `step ${index} at 30 s`).toBeLessThan(0.01);
    }
  },
);

test.skipIf(rateTest === null)("equivalent full cycles of the rate test at 6.55 Ah", () => {
  const { timeS, currentA } = pouchCell();
  expect(Math.abs(equivalentFullCycles(buildLog({ timeS, currentA }), 6.55) - 5.2852)).toBeLessThan(0.001);
});

test.skipIf(rateTest === null)("heating at 9 C: steepest minute of probe 2, widest spread of three probes", () => {
  const { timeS, step, probes } = pouchCell();
  const rows = step.map((index, row) => (index === 21 ? row : -1)).filter((row) => row >= 0);
  const from = rows[0] ?? 0;
  const to = (rows.at(-1) ?? 0) + 1;
  const hottest = probes[1];
  if (hottest === undefined) throw new Error("probe 2 is absent");
  const rise = steepestRiseKPerMin(timeS.subarray(from, to), hottest.subarray(from, to));
  expect(Math.abs((rise?.rate ?? 0) - 6.96)).toBeLessThan(0.1);
  expect(widestTemperatureSpreadK(probes)?.spreadK).toBeCloseTo(7.5, 6);
});

// NASA PCoE Li-ion Battery Aging, cell B0005, discharges 1 and 168: capacities published with the data set.
const firstDischarge = readCheckColumns("readings/data/nasa_B0005_discharge1.csv");
const lastDischarge = readCheckColumns("readings/data/nasa_B0005_discharge168.csv");

test.skipIf(firstDischarge === null || lastDischarge === null)(
  "a full discharge to the first row under 2.7 V holds the published capacity, but for the seconds before the load",
  () => {
    for (const [columns, published] of [
      [firstDischarge, 1.8564874208181574],
      [lastDischarge, 1.3250793286429356],
    ] as const) {
      if (columns === null) return;
      const log = buildLog({
        timeS: timeOf(columns),
        currentA: column(columns, "current"),
        cellVoltagesV: [column(columns, "voltage")],
      });
      const found = fullDischarge(surveyRows(log, 2), 4.2, 2.7);
      // The first interval, still full, holds 15 microampere-hours; one row less at the end would be 11,000.
      expect(Math.abs((found?.capacityAh ?? 0) - published)).toBeLessThan(3e-5);
    }
  },
);

test.skipIf(firstDischarge === null)(
  "at 19 s sampling load-on and load-off at empty differ 1.8 times, and the offset is -1.85 mA",
  () => {
    if (firstDischarge === null) return;
    const timeS = timeOf(firstDischarge);
    const currentA = column(firstDischarge, "current");
    const voltageV = column(firstDischarge, "voltage");
    const gates = { leastChangeA: 1, withinS: 30, steadyBeforeS: 10, steadyShare: 0.05 };
    const [on, off] = loadSteps(timeS, currentA, new Int32Array(timeS.length), gates);
    if (on === undefined || off === undefined) throw new Error("load steps not found");
    const milliohm = (step: typeof on) => 1000 * (stepResistanceOhm(timeS, currentA, voltageV, step, 0) ?? Number.NaN);
    expect(Math.abs(milliohm(on) - 107.346)).toBeLessThan(0.01);
    expect(Math.abs(milliohm(off) - 192.019)).toBeLessThan(0.01);
    expect(Math.abs((meanCurrentA(currentA.subarray(off.row)) ?? 0) + 0.001848)).toBeLessThan(1e-6);
  },
);

function timeOf(columns: Readonly<Record<string, Float64Array>>): Float64Array {
  return column(columns, "discharge_time");
}

// Group 82 of file 2 of BatICM/unsupervised-battery-faults @57bb1c0, MIT: daily deviation from the pack median.
const drifting = readCheckColumns("readings/data/evpack_car2_cell82_daily_rest.csv");

test.skipIf(drifting === null)("robust drift of group 82: +0.091 mV per day to day 44, -1.222 to day 94", () => {
  if (drifting === null) return;
  const day = column(drifting, "day");
  const off = column(drifting, "cell82_minus_pack_median_mV");
  const cut = day.findIndex((one) => one >= 45);
  const end = day.findIndex((one) => one > 94);
  expect(Math.abs((theilSenSlope(day.subarray(0, cut), off.subarray(0, cut)) ?? 0) - 0.091)).toBeLessThan(0.002);
  expect(Math.abs((theilSenSlope(day.subarray(cut, end), off.subarray(cut, end)) ?? 0) + 1.222)).toBeLessThan(0.002);
});
