import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { defaultMeasureGates } from "@/lib/readings/measure/measure-gates";
import { type PathLevels, pathLevels } from "@/lib/readings/measure/path-levels";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { summaryOf } from "../../../support/log-builder";
import { plainModel } from "../../../support/plain-model";
import { simulatePack } from "../../../support/plain-pack";
import { fullUse } from "../../../support/use-of-a-pack";

/** 2 mOhm between groups and terminals, and the groups 14.4 mOhm and polarisation (model of the tests). */
const sound = (intervalS: number) => simulatePack({ seed: 8, model: plainModel, acts: fullUse, intervalS });

function withPackVoltage(log: ReadingLog, volt: (row: number) => number): ReadingLog {
  return { ...log, packVoltageV: Float64Array.from(log.timeS, (_, row) => volt(row)) };
}

/** A contact of so many milliohm that is open in about two of five stretches of a minute. */
function makesAndBreaks(log: ReadingLog, milliohm: number): ReadingLog {
  const isOpen = (row: number) => Math.sin(7.3 * Math.floor((log.timeS[row] ?? 0) / 60) ** 2) > 0.3;
  return withPackVoltage(
    log,
    (row) => (log.packVoltageV[row] ?? 0) + (isOpen(row) ? (milliohm / 1000) * (log.currentA[row] ?? 0) : 0),
  );
}

function levelsOf(log: ReadingLog): PathLevels | null {
  return pathLevels(surveyRows(log, plainModel.ratedCapacityAh, defaultMeasureGates), 0.001);
}

const named = (log: ReadingLog) =>
  diagnose({ log, summary: summaryOf(log), model: plainModel }).findings.map(({ fault }) => fault);

test("a contact of 3 milliohm that makes and breaks is a bad lead at any sampling, a sound one is none", () => {
  for (const intervalS of [2, 10, 30]) {
    const log = sound(intervalS);
    expect(levelsOf(log)?.sureness).toBeLessThan(4);
    expect(named(log)).not.toContain("main-lead");
    const found = levelsOf(makesAndBreaks(log, 3));
    // Open or closed with two of five open: 3 mOhm · sqrt(0.4 · 0.6) = 1.5 mOhm.
    expect(found?.flickerOhm).toBeGreaterThan(0.001);
    expect(found?.flickerOhm).toBeLessThan(0.002);
    expect(found?.sureness).toBeGreaterThan(4);
    expect(named(makesAndBreaks(log, 3))).toContain("main-lead");
  }
});

test("a pack voltage that is read a moment later than the groups is no contact that makes and breaks", () => {
  const log = sound(2);
  const late = withPackVoltage(
    log,
    (row) => 0.7 * (log.packVoltageV[row] ?? 0) + 0.3 * (log.packVoltageV[Math.max(0, row - 1)] ?? 0),
  );
  expect(levelsOf(late)?.flickerOhm).toBeLessThan(0.0006);
  expect(named(late)).not.toContain("main-lead");
});

test("a lead that is high throughout is told where the drop itself shows that it was read with the current", () => {
  const log = sound(60);
  const high = withPackVoltage(log, (row) => (log.packVoltageV[row] ?? 0) + 0.03 * (log.currentA[row] ?? 0));
  expect(levelsOf(high)?.explained).toBeGreaterThan(0.98);
  expect(named(high)).toContain("main-lead");
});

test("without load, or without a pack voltage, nothing is said of the path", () => {
  const log = sound(60);
  expect(levelsOf({ ...log, currentA: log.currentA.map(() => 0) })).toBeNull();
  expect(levelsOf(withPackVoltage(log, () => Number.NaN))).toBeNull();
});
