import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { frozenLogRuns, withoutFrozenRows } from "@/lib/readings/measure/frozen-log";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import type { ProtectionFlag } from "@/lib/readings/protection-flags";
import { protectionFlagNames, protectionFlagWords } from "@/lib/readings/protection-flags";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { buildLog, constant, evenTimes, summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { simulatePack } from "../../support/plain-pack";
import { fullUse } from "../../support/use-of-a-pack";

const soundLog = () => simulatePack({ seed: 8, model: plainModel, acts: fullUse, intervalS: 2 });

function judged(log: ReadingLog) {
  return diagnose({ log, summary: summaryOf(log), model: plainModel });
}

/** Every column but time repeats row `from` for `count` rows. */
function freeze(log: ReadingLog, from: number, count: number): void {
  const columns = [log.packVoltageV, log.currentA, ...log.cellVoltagesV, ...log.temperatures.map((one) => one.valuesC)];
  for (const column of columns) column.fill(column[from] ?? 0, from, from + count);
}

const underLoad = (log: ReadingLog) => log.currentA.findIndex((ampere, row) => row > 500 && ampere < -20);

test("a log that stands still under load is a fault of the monitor, twenty rows of it are none", () => {
  const log = soundLog();
  const from = underLoad(log);
  freeze(log, from, 60);
  const { findings } = judged(log);
  expect(findings[0]).toMatchObject({ fault: "measurement-fault", groups: [], safetyClass: "B" });
  expect(findings[0]?.evidenceFor[0]).toContain(`From line ${log.line[from]} to ${log.line[from + 59]} every value`);
  const briefly = soundLog();
  freeze(briefly, from, 20);
  expect(judged(briefly).findings.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
});

test("no rest, time or charge runs through rows that stand still", () => {
  const log = soundLog();
  const from = underLoad(log);
  freeze(log, from, 60);
  const survey = surveyRows(log, plainModel.ratedCapacityAh);
  const whole = withoutFrozenRows(survey, frozenLogRuns(survey));
  expect([...whole.intervalS.subarray(from + 1, from + 61)]).toEqual(new Array(60).fill(0));
  expect(whole.stretch[from + 60]).toBe((whole.stretch[from] ?? 0) + 1);
  expect(survey.intervalS[from + 30]).toBe(2);
});

test("a coarse log under a small steady current repeats itself and does not stand still", () => {
  // 1.5 A into 40 Ah for 10 minutes: 0.6 % of charge, 5 mV at most, logged in steps of 20 mV.
  const rows = 600;
  const log = buildLog({
    timeS: evenTimes(rows, 1),
    currentA: constant(rows, 1.5),
    packVoltageV: constant(rows, 60.8),
    cellVoltagesV: Array.from({ length: 16 }, () => constant(rows, 3.8)),
  });
  expect(frozenLogRuns(surveyRows(log, plainModel.ratedCapacityAh))).toEqual([]);
});

/** The flag set in the rows that are asked for. Bits: SunSpec information model 802, point Evt1. */
function flagged(flag: ProtectionFlag, isSet: (log: ReadingLog, row: number) => boolean): ReadingLog {
  const log = soundLog();
  const word = 2 ** protectionFlagNames.indexOf(flag);
  return { ...log, protectionFlags: Float64Array.from(log.timeS, (_, row) => (isSet(log, row) ? word : 0)) };
}

test("an alarm of the monitor that nothing explains keeps the pack from being called sound", () => {
  for (const flag of ["OVER_TEMP_ALARM", "GROUND_FAULT", "COMMUNICATION_ERROR", "UNDER_VOLT_ALARM"] as const) {
    const log = flagged(flag, (_, row) => row === 10 || (row >= 100 && row < 110));
    const { findings, suggestion, measurements } = judged(log);
    expect(findings, flag).toEqual([]);
    expect(suggestion.remedy).toBe("cannot-tell");
    expect(suggestion.missing.join(" ")).toContain(
      `The monitor raised its ${protectionFlagWords[flag]} 2 times, first at line ${log.line[10]}`,
    );
    const listed = measurements.find(({ name }) => name === `flag-${flag.toLowerCase().replaceAll("_", "-")}`);
    expect(listed).toMatchObject({ value: 2, conditions: "11 rows, from 20 to 218 s, at most 2 times within a day" });
  }
});

test("a cut-off at the end of a charge and a warning are ordinary", () => {
  const full = flagged("OVER_VOLT_ALARM", (log, row) => log.cellVoltagesV.some((cell) => (cell[row] ?? 0) > 4.12));
  expect(full.protectionFlags?.some((word) => word > 0)).toBe(true);
  const warned = flagged("OVER_TEMP_WARNING", (_, row) => row === 10);
  for (const log of [full, warned]) expect(judged(log).findings.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
});

test("an alarm of one group while the others stand in the middle is no ordinary end, nor one far over the limit", () => {
  const middle = (plainModel.cellMaxV + plainModel.cellMinV) / 2;
  const row = soundLog().cellVoltagesV[0]?.findIndex((volt) => volt > middle + 0.05 && volt < middle + 0.3) ?? -1;
  expect(row).toBeGreaterThan(0);
  const oneLow = flagged("UNDER_VOLT_ALARM", (_, at) => at >= row && at < row + 8);
  oneLow.cellVoltagesV[2]?.fill(plainModel.cellMinV + 0.05, row, row + 8);
  const oneHigh = flagged("OVER_VOLT_ALARM", (_, at) => at >= row && at < row + 3);
  oneHigh.cellVoltagesV[2]?.fill(plainModel.cellMaxV + 0.1, row, row + 3);
  for (const [log, flag] of [
    [oneLow, "UNDER_VOLT_ALARM"],
    [oneHigh, "OVER_VOLT_ALARM"],
  ] as const) {
    const { findings, suggestion } = judged(log);
    const said = findings.some(({ fault }) => fault !== "no-fault-found");
    expect(
      said || suggestion.missing.join(" ").includes(`The monitor raised its ${protectionFlagWords[flag]}`),
      flag,
    ).toBe(true);
    expect(suggestion.remedy, flag).not.toBe("return-as-is");
  }
});

test("an insulation that is lost is never a sound pack, and whoever reads it is told not to touch it", () => {
  const log = { ...soundLog(), insulationKiloohm: constant(soundLog().rows, 1) };
  const { findings, suggestion } = judged(log);
  expect(findings.map(({ fault }) => fault)).not.toContain("no-fault-found");
  expect(suggestion.remedy).toBe("cannot-tell");
  expect(suggestion.missing.join(" ")).toMatch(
    /Insulation stands at 1 kOhm throughout.*do not open or touch it bare-handed/,
  );
  const dry = { ...soundLog(), insulationKiloohm: constant(soundLog().rows, 5000) };
  expect(judged(dry).findings.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
});

test("a ground fault that the monitor flags is a sign of water beside another oddity, alone it is not", () => {
  const log = flagged("GROUND_FAULT", (_, row) => row >= 100 && row < 110);
  log.temperatures[0]?.valuesC.fill(21.5);
  const { findings } = judged(log);
  expect(findings.find(({ fault }) => fault === "water-ingress")).toMatchObject({ safetyClass: "A1" });
  expect(findings.find(({ fault }) => fault === "water-ingress")?.evidenceFor[0]).toContain("ground fault");
});

test("flags of a list nobody knows are told as raised, name no fault, and keep the pack from being called sound", () => {
  const log = soundLog();
  // Bits 9 and 22 are too high a voltage and a ground fault in the open list only.
  const otherFlags = Float64Array.from(log.timeS, (_, row) => (row >= 40 && row < 50 ? 2 ** 9 + 2 ** 22 : 0));
  const { findings, suggestion, measurements } = judged({ ...log, otherFlags });
  expect(findings).toEqual([]);
  expect(suggestion.remedy).toBe("cannot-tell");
  expect(suggestion.missing.join(" ")).toContain("first at line 42 (4194816); what they mean is not known");
  expect(measurements.map(({ name }) => name)).not.toContain("flag-ground-fault");
  expect(measurements.find(({ name }) => name === "flags-of-unknown-meaning")).toMatchObject({ value: 1 });
});
