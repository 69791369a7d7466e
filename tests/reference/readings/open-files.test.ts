import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { gateSynchrony } from "@/lib/diagnosis/stages/synchrony";
import { createCorrelation } from "@/lib/readings/correlation";
import { coulombCountAh } from "@/lib/readings/integrate";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { createReadingDecoder, type DecodedReadings, readReadings } from "@/lib/readings/read-readings";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { repairTime } from "@/lib/readings/time-repair";
import { checkDataPath } from "../../support/check-data";
import { expectWithinRelative } from "../../support/within-relative";

/** Ah. Not told in the open files; only the size of the load steps that count depends on it. */
const vehicleAh = 150;

function logOf(bytes: Uint8Array): DecodedReadings {
  const decoder = createReadingDecoder();
  decoder.push(bytes);
  const result = decoder.end();
  if (result.kind !== "log") throw new Error(result.sentence);
  return result;
}

function largeSteps(log: ReadingLog) {
  const steps = createCorrelation();
  const meanV = (row: number) =>
    log.cellVoltagesV.reduce((sum, cell) => sum + (cell[row] ?? Number.NaN), 0) / log.cellVoltagesV.length;
  for (let row = 1; row < log.rows; row++) {
    const stepA = (log.currentA[row] ?? Number.NaN) - (log.currentA[row - 1] ?? Number.NaN);
    const stepS = (log.timeS[row] ?? Number.NaN) - (log.timeS[row - 1] ?? Number.NaN);
    if (Math.abs(stepA) > 10 && stepS > 0 && stepS <= 31) steps.add(stepA, meanV(row) - meanV(row - 1));
  }
  return steps.result();
}

// SINTEF rate test of a high-power pouch cell, Zenodo record 17295469, in battery-data-alliance/battery-data-format @1412b98. Its logger writes
// single rows with time 0.000. Rows, resets and net charges were computed from the file by an independent Python script.
const rateTest = checkDataPath(
  "readings/data/SINTEF__SLPBA842124HV__2024-10-23__Rate_25degC__Neware__Time_Bug.bdf.csv",
);
test.skipIf(rateTest === null)("the open rate test: 13,086 rows, 19 resets, net charge before and after repair", () => {
  const bytes = readFileSync(rateTest ?? "");
  const { log, summary } = logOf(bytes);
  expect(summary).toMatchObject({
    rows: 13_086,
    rejected: [],
    timeRepairs: 19,
    currentSign: "charge-positive",
    groups: 1,
  });
  const loggedS = Float64Array.from(bytes.toString("utf8").trimEnd().split("\n").slice(1), (line) =>
    Number(line.split(",")[0]),
  );
  expect(repairTime(loggedS, null).resets).toHaveLength(19);
  expectWithinRelative(
    coulombCountAh(loggedS, log.currentA, null, Number.POSITIVE_INFINITY).netAh,
    -953.3492,
    1e-7,
    "net charge, clock unrepaired",
  );
  const { netAh, chargedAh, dischargedAh } = coulombCountAh(
    log.timeS,
    log.currentA,
    log.segment,
    Number.POSITIVE_INFINITY,
  );
  expectWithinRelative(netAh, -3.1161, 1e-5, "net charge, clock repaired");
  // Equivalent full cycles at 6.55 Ah, from the same script: 5.2852.
  expectWithinRelative((chargedAh + dischargedAh) / (2 * 6.55), 5.2852, 1e-5, "equivalent full cycles");
});

// NASA PCoE battery data set, cell B0005: the capacities published with the data, Ah, and the trapezoid up to the first row below 2.7 V.
for (const [name, publishedAh] of [
  ["nasa_B0005_discharge1.csv", 1.8564874208181574],
  ["nasa_B0005_discharge168.csv", 1.3250793286429356],
] as const) {
  const file = checkDataPath(`readings/data/${name}`);
  test.skipIf(file === null)(`the published capacity of ${name} comes out to twelve digits`, () => {
    const { log, summary } = logOf(readFileSync(file ?? ""));
    expect(summary.currentSign).toBe("charge-positive");
    const toRow = log.packVoltageV.findIndex((volt) => volt < 2.7);
    const { netAh } = coulombCountAh(log.timeS, log.currentA, log.segment, Number.POSITIVE_INFINITY, {
      fromRow: 0,
      toRow,
    });
    expectWithinRelative(netAh, -publishedAh, 1e-12, name);
  });
}

// SINTEF phone pouch at C/30 (same repository): a trapezoid over its discharging steps in Python gives 3.8551711310 Ah.
const phone = checkDataPath("readings/data/SINTEF__G20M7-202512-Gru6mV__20251228__C30__25degC__Neware.bdf.csv");
test.skipIf(phone === null)("the open C/30 file: discharge charge and start date", () => {
  const { log, summary } = logOf(readFileSync(phone ?? ""));
  expect(summary.currentSign).toBe("charge-positive");
  expectWithinRelative(
    coulombCountAh(log.timeS, log.currentA, log.segment, Number.POSITIVE_INFINITY).dischargedAh,
    3.855171131033162,
    1e-12,
  );
  expect(log.startUnixS).toBe(1_766_393_064.885);
});

// Vehicle pack of 87 cells, BatICM/unsupervised-battery-faults @57bb1c0 (MIT): discharge counts positive there.
const vehicle = checkDataPath("readings/data/evpack_car4_first800.csv");
test.skipIf(vehicle === null)(
  "the open vehicle pack: discharge-positive, also where the header hides or denies it",
  () => {
    const text = readFileSync(vehicle ?? "", "utf8");
    for (const header of ["current_A_discharge_positive", "current_A_charge_positive", "current", "Current / A"]) {
      const { log, summary } = logOf(new TextEncoder().encode(text.replace("current_A_discharge_positive", header)));
      expect(summary, header).toMatchObject({ rows: 800, groups: 87, currentSign: "discharge-positive" });
      expect(log.currentA[1], header).toBe(-4.2);
    }
    const { log } = logOf(readFileSync(vehicle ?? ""));
    const survey = surveyRows(log, vehicleAh);
    expect(Array.from(new Set(survey.plausibleGroups))).toEqual([log.cellVoltagesV.length]);
    // The step in mean cell voltage against the step in current, for steps above 10 A no more than 31 s apart: a Python script over the file
    // gives r = -0.6427072571 in the sign of the file, over 146 steps. Ours counts the other way round.
    const { pairs, r } = largeSteps(log);
    expect(pairs).toBe(146);
    expectWithinRelative(r, 0.6427072571279492, 1e-9, "correlation of steps");
    expect(gateSynchrony(survey).stepCorrelation).toBeGreaterThan(0.5);
  },
);

// The same pack in an acute event: first event row 10 s after 341.8 V shows 327.1 V, 8 cells without a value, a highest cell of 5.000 V and
// cell 32 at 1.995 V, all of which the log must still hold.
const event = checkDataPath("readings/data/evpack_car4_event.csv");
test.skipIf(event === null)("the open acute event reaches the log with nothing cleaned away", () => {
  const { log, summary } = logOf(readFileSync(event ?? ""));
  expect(summary.rejected).toEqual([]);
  const row = log.packVoltageV.indexOf(327.1);
  expect(log.packVoltageV[row - 1]).toBe(341.8);
  const cells = log.cellVoltagesV.map((cell) => cell[row] ?? Number.NaN);
  expect(cells.filter(Number.isNaN)).toHaveLength(8);
  expect(Math.max(...cells.filter((voltageV) => !Number.isNaN(voltageV)))).toBe(5);
  expect(cells[31]).toBe(1.995);
  expect(summary.remarks.join(" ")).toMatch(/degC \+ 40 .* which must be confirmed/);
});

// Lines 721 to 728 of the open rate test, with the header of the file: always here, so that one reset is checked without the file.
test("an excerpt of the open rate test: the reset in line 724 takes the time of the row before", async () => {
  const excerpt = [
    "test_time_second,voltage_volt,current_ampere,cycle_count,step_index,power_watt,temperature_t1_celsius,temperature_t2_celsius,temperature_t3_celsius",
    "7180.000,3.8133,0.0000,1,1,0.0000,26.5,26.5,26.5",
    "7190.000,3.8133,0.0000,1,1,0.0000,26.5,26.5,26.5",
    "7200.000,3.8133,0.0000,1,1,0.0000,26.4,26.4,26.5",
    "0.000,3.8140,2.1810,1,2,8.3183,26.4,26.4,26.5",
    "7200.010,3.8140,2.1810,1,2,8.3183,26.4,26.4,26.5",
    "7210.000,3.8285,2.1814,1,2,8.3515,26.5,26.4,26.5",
    "7220.000,3.8309,2.1814,1,2,8.3569,26.5,26.4,26.5",
    "7230.000,3.8325,2.1814,1,2,8.3601,26.5,26.4,26.5",
  ].join("\n");
  const result = await readReadings(new TextEncoder().encode(excerpt));
  if (result.kind !== "log") throw new Error(result.sentence);
  expect([...result.log.timeS].map((timeS) => Number(timeS.toFixed(3)))).toEqual([
    0.0, 10.0, 20.0, 20.0, 20.01, 30.0, 40.0, 50.0,
  ]);
  expect(result.summary.timeRepairs).toBe(1);
});

test("an offset of 0.1 A over 24 h counts 2.4 Ah, and a gap counts nothing unless it is bridged", () => {
  const timeS = Float64Array.from({ length: 25 }, (_, hour) => hour * 3600);
  const currentA = new Float64Array(25).fill(0.1);
  expectWithinRelative(coulombCountAh(timeS, currentA, null, 3600).netAh, 2.4, 1e-12);
  timeS[24] = 50 * 3600;
  expectWithinRelative(coulombCountAh(timeS, currentA, null, 3600).netAh, 2.3, 1e-12);
  expectWithinRelative(coulombCountAh(timeS, currentA, null, Number.POSITIVE_INFINITY).netAh, 5, 1e-12);
});
