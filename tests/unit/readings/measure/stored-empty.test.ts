import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import type { PackModel } from "@/lib/packs/pack-model";
import { defaultAbuseGates } from "@/lib/readings/measure/abuse-gates";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { storedEmpty } from "@/lib/readings/measure/stored-empty";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { buildLog, constant, probe, summaryOf } from "../../../support/log-builder";
import { plainModel } from "../../../support/plain-model";

// 14 days under 3.0 V or 5 % of charge: diagnostics.md 1.16, engineering default without a source.

/** A pack at rest, one row an hour for so many days, its groups at the volts given for an hour. */
function standing(days: number, volt: (hour: number) => number): ReadingLog {
  const hours = Array.from({ length: 24 * days + 1 }, (_, hour) => hour);
  const ofGroup = (group: number) => Float64Array.from(hours, (hour) => volt(hour) + 0.0015 * ((hour + group) % 3));
  const cellVoltagesV = Array.from({ length: 16 }, (_, index) => ofGroup(index));
  return buildLog({
    timeS: hours.map((hour) => 3600 * hour),
    currentA: constant(hours.length, 0),
    packVoltageV: Float64Array.from(hours, (hour) => 16 * volt(hour)),
    cellVoltagesV,
    temperatures: [probe("Temperature T1", constant(hours.length, 20))],
  });
}

const daysOf = (log: ReadingLog, emptyBelowV = 3.29) => {
  const stay = storedEmpty(surveyRows(log, plainModel.ratedCapacityAh), defaultAbuseGates, emptyBelowV);
  return stay === null ? null : Math.round(stay.totalS / 86_400);
};

test("rows that say nothing of the groups end no stay: a pack that stood empty for 20 days did so", () => {
  const log = standing(20, () => 3.1);
  expect(daysOf(log)).toBe(20);
  for (const column of log.cellVoltagesV) for (let hour = 30; hour < 480; hour += 48) column[hour] = 0;
  expect(daysOf(log)).toBe(20);
  expect(daysOf(standing(13, () => 3.1))).toBeNull();
  expect(daysOf(standing(20, (hour) => (hour === 240 ? 3.4 : 3.1)))).toBeNull();
});

test("a current that flows for a moment ends no stay, a charge and a ride in between do", () => {
  const log = standing(20, () => 3.1);
  log.currentA[240] = 4;
  expect(daysOf(log)).toBe(20);
  const used = standing(20, (hour) => (hour < 240 ? 3.1 : 3.0));
  used.currentA.fill(-20, 240, 243);
  expect(daysOf(used)).toBeNull();
});

test("where the clock was set anew a pack that stands where it stood has stood on, one that stands elsewhere has not", () => {
  const halves = (later: number) => {
    const log = standing(20, (hour) => (hour < 240 ? 3.1 : later));
    log.segment.fill(1, 240);
    return daysOf(log);
  };
  expect(halves(3.09)).toBe(20);
  expect(halves(2.95)).toBeNull();
});

test("a table with no point between empty and a tenth of charge is not taken for a straight line there", () => {
  // Ecker 2015 (PyBaMM) has 3.294 V at 5 % and 3.459 V at 10 %; of a table of tenths a straight line would put 5 % at 2.98 V.
  const tenths: PackModel = {
    ...plainModel,
    openCircuit: (plainModel.openCircuit ?? []).filter(([percent]) => percent % 10 === 0),
  };
  const found = (volt: number, model: PackModel) => {
    const log = standing(20, () => volt);
    return diagnose({ log, summary: summaryOf(log), model }).findings.some(({ fault }) => fault === "outside-cause");
  };
  for (const model of [plainModel, tenths]) {
    expect(found(3.2, model)).toBe(true);
    expect(found(3.38, model)).toBe(false);
  }
});
