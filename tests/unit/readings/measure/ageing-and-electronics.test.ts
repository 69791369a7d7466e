import { expect, test } from "vitest";
import { healthBand } from "@/lib/diagnosis/state-of-health";
import { balancingDrops } from "@/lib/readings/measure/balancing-drop";
import { coulombicEfficiency } from "@/lib/readings/measure/coulombic-efficiency";
import { energyThroughput } from "@/lib/readings/measure/energy-throughput";
import type { OpenCircuitCurve } from "@/lib/readings/measure/open-circuit";
import { restCurrentOffset } from "@/lib/readings/measure/rest-current-offset";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { switchHeating } from "@/lib/readings/measure/switch-heating";
import { buildLog, constant, evenTimes, probe } from "../../../support/log-builder";

const ratedAh = 20;
/** Straight: 3.0 V empty, 4.0 V full, 10 mV per % of charge. */
const straight: OpenCircuitCurve = { socPercent: [0, 100], voltageV: [3, 4], source: "pack model" };

test("an hour of 10 A at 50 V out and half of it in is 500 Wh and 250 Wh, less half a step at the turn", () => {
  const timeS = evenTimes(541, 10);
  const currentA = Float64Array.from(timeS, (at) => (at < 3600 ? -10 : at > 3600 ? 10 : 0));
  const log = buildLog({ timeS, currentA, packVoltageV: constant(541, 50), cellVoltagesV: [constant(541, 3.5)] });
  const found = energyThroughput(surveyRows(log, ratedAh));
  expect(found?.dischargedWh).toBeCloseTo((500 * 3595) / 3600, 9);
  expect(found?.chargedWh).toBeCloseTo((500 * 1795) / 3600, 9);
  expect(found?.from).toBe("pack voltage");
  expect(energyThroughput(surveyRows(buildLog({ timeS }), ratedAh))).toBeNull();
});

test("a loop that needs 10.2 Ah to give back 10 Ah has an efficiency of 0.98", () => {
  // An hour of rest, an hour at -10 A, an hour at 10.2 A, an hour of rest; the cells end where they began.
  const timeS = evenTimes(1441, 10);
  const hour = (at: number) => Math.floor(at / 3600);
  const currentA = Float64Array.from(timeS, (at) => (hour(at) === 1 ? -10 : hour(at) === 2 ? 10.2 : 0));
  const volts = Float64Array.from(currentA, (amp) => 3.8 + 0.001 * amp);
  const log = buildLog({ timeS, currentA, cellVoltagesV: [volts, volts, volts, volts] });
  const found = coulombicEfficiency(surveyRows(log, ratedAh), straight);
  expect(found?.efficiency).toBeCloseTo(0.98, 3);
  expect(found?.error).toBeGreaterThan(0);
  expect(
    coulombicEfficiency(surveyRows(buildLog({ timeS, currentA: constant(1441, 0) }), ratedAh), straight),
  ).toBeNull();
});

test("neither days of rest under a sensor's offset nor rows without a current change the efficiency", () => {
  // A day of rest, an hour at -10 A, a day of rest, an hour at 10.2 A, a day of rest; every row is 0.2 A too high, one in nine has no current.
  const hours = 24 + 1 + 24 + 1 + 24;
  const timeS = evenTimes(hours * 120 + 1, 30);
  const flowsA = (at: number) =>
    at >= 24 * 3600 && at < 25 * 3600 ? -10 : at >= 49 * 3600 && at < 50 * 3600 ? 10.2 : 0;
  const volts = Float64Array.from(
    timeS,
    (at) => 3.8 + 0.001 * flowsA(at) - (at >= 25 * 3600 && at < 49 * 3600 ? 0.5 : 0),
  );
  const read = (offsetA: number, isMissing: (row: number) => boolean) => {
    const currentA = Float64Array.from(timeS, (at, row) => (isMissing(row) ? Number.NaN : flowsA(at) + offsetA));
    const log = buildLog({ timeS, currentA, cellVoltagesV: [volts, volts, volts, volts] });
    return coulombicEfficiency(surveyRows(log, 40), straight);
  };
  const sound = read(0, () => false);
  const off = read(0.2, (row) => row % 9 === 4);
  expect(sound?.efficiency).toBeCloseTo(10 / 10.2, 3);
  expect(off?.efficiency).toBeCloseTo(10 / 10.2, 2);
  expect(off?.chargedAh).toBeLessThan(10.5);
});

test("the current at rest has the rounding of its column and the difference between its rests as error", () => {
  const rows = 3 * 7200 + 1;
  const timeS = evenTimes(rows, 1);
  // Three rests of an hour and a half with rides of half an hour between, read in steps of 0.1 A.
  const restA = [0.1, 0.1, 0.1];
  const read = (restsA: readonly number[]) => {
    const currentA = Float64Array.from(timeS, (at) => (at % 7200 < 1800 ? -20 : (restsA[Math.floor(at / 7200)] ?? 0)));
    return restCurrentOffset(surveyRows(buildLog({ timeS, currentA, cellVoltagesV: [constant(rows, 3.8)] }), 40));
  };
  const alike = read(restA);
  expect(alike?.rests).toBe(3);
  // JCGM 100:2008, 4.3.7: a step over the root of twelve.
  expect(alike?.errorA).toBeCloseTo(0.1 / Math.sqrt(12), 9);
  const unlike = read([0, 0.1, 0.2]);
  expect(unlike?.offsetA).toBeCloseTo(0.1, 6);
  // Means of 0, 0.1 and 0.2 A: a standard deviation of 0.1 A, over the root of three rests.
  expect(unlike?.errorA).toBeCloseTo(Math.hypot(0.1 / Math.sqrt(12), 0.1 / Math.sqrt(3)), 3);
});

test("switches that warm 4 K per 1,000 A² are read so, and a second half that warms more shows as a trend", () => {
  const rows = 4000;
  const timeS = evenTimes(rows, 5);
  // Ten minutes of 60 A, ten of rest, over and over; the switches follow at once after a minute's low pass.
  const currentA = Float64Array.from(timeS, (at) => (Math.floor(at / 600) % 2 === 0 ? -60 : 0));
  let square = 0;
  const squares = currentA.map((amp, row) => {
    square += row === 0 ? 0 : (amp * amp - square) * (1 - Math.exp(-5 / 60));
    return square;
  });
  const stage = (perSquare: (row: number) => number) => squares.map((one, row) => 25 + (perSquare(row) * one) / 1000);
  const board = probe("Temperature T1", constant(rows, 25));
  const read = (mosfetTemperatureC: Float64Array) => {
    const log = buildLog({
      timeS,
      currentA,
      mosfetTemperatureC,
      temperatures: [board],
      cellVoltagesV: [constant(rows, 3.7)],
    });
    return switchHeating(surveyRows(log, ratedAh), [board.valuesC]);
  };
  expect(read(stage(() => 4))?.kelvinPer1000A2).toBeCloseTo(4, 6);
  const worse = read(stage((row) => (row < rows / 2 ? 4 : 5.2)))?.halves;
  expect((worse?.[1] ?? 0) / (worse?.[0] ?? 1)).toBeCloseTo(1.3, 2);
});

test("a group that reads 6 mV low whenever its balancer is on has a drop of 6 mV, whichever row logs the command", () => {
  const rows = 400;
  const on = (row: number) => Math.floor(row / 20) % 2 === 1;
  for (const late of [0, 1]) {
    const balancingMask = Float64Array.from({ length: rows }, (_, row) => (on(row) ? 2 : 0));
    const volts = Float64Array.from({ length: rows }, (_, row) => 4.1 - (on(Math.max(0, row - late)) ? 0.006 : 0));
    const log = buildLog({
      timeS: evenTimes(rows, 1),
      currentA: constant(rows, 1),
      cellVoltagesV: [constant(rows, 4.1), volts, constant(rows, 4.1), constant(rows, 4.1)],
      balancingMask,
    });
    const drops = balancingDrops(surveyRows(log, ratedAh));
    expect(drops.map(({ group }) => group)).toEqual([2]);
    expect(drops[0]?.dropV).toBeCloseTo(0.006, 6);
  }
});

test("the band of health spans a factor of two in cycles and the spread of new packs around the line", () => {
  const [lowest, highest] = healthBand(500, 1000);
  expect(lowest).toBeCloseTo(1 - 0.1 * Math.SQRT2 - 0.05, 9);
  expect(highest).toBeCloseTo(1 - 0.1 / Math.SQRT2 + 0.05, 9);
  // A few percent above or below the rated capacity is no news of a new pack (common practice, no source).
  const [leastNew, mostNew] = healthBand(0, 1000);
  for (const share of [0.97, 0.99, 1.015]) expect(share > leastNew && share < mostNew).toBe(true);
});
