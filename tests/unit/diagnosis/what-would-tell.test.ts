import { expect, test } from "vitest";
import { diagnoseAndDraw } from "@/lib/diagnosis/diagnose";
import { fullDischarge } from "@/lib/readings/measure/discharge-capacity";
import { restDrift } from "@/lib/readings/measure/rest-drift";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { buildLog, evenTimes, summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { type PlainPack, simulatePack } from "../../support/plain-pack";
import { fullUse } from "../../support/use-of-a-pack";

const soundPack: PlainPack = { seed: 8, model: plainModel, acts: fullUse, intervalS: 2 };

function judged(log: ReadingLog) {
  const { diagnosis, drawings } = diagnoseAndDraw({ log, summary: summaryOf(log), model: plainModel });
  return { ...diagnosis, drawings };
}

test("a pack that cannot be told is given the test that would tell, with its amperes", () => {
  const parked = judged(simulatePack({ ...soundPack, intervalS: 60, acts: [{ act: "rest", hours: 60 }] }));
  expect(parked.suggestion.remedy).toBe("cannot-tell");
  expect(parked.suggestion.reasons.at(-1)).toMatch(
    /^To be able to tell: Test of about an hour: .* draw about 40 A on and off, .* until 40 % of charge is out/,
  );
});

test("places on the trace belong to the finding: a drained group's to its own events, a stuck probe's to its rows", () => {
  const log = simulatePack(soundPack);
  const cellVoltagesV = log.cellVoltagesV.map((column, index) =>
    index === 5 ? column.map((volt) => volt - 2) : column,
  );
  const packVoltageV = log.packVoltageV.map((volt) => volt - 2);
  const temperatures = log.temperatures.map((probe, index) =>
    index === 0 ? { ...probe, valuesC: probe.valuesC.map(() => -40) } : probe,
  );
  const { findings, drawings } = judged({ ...log, cellVoltagesV, packVoltageV, temperatures });
  const placesOf = (fault: string) => drawings.places.filter(({ finding }) => findings[finding]?.fault === fault);
  expect(placesOf("over-discharge").map(({ says }) => says)).toEqual(["a group drained too far"]);
  expect(placesOf("temperature-sensor")[0]).toMatchObject({
    says: "Temperature T1 reads as if its wire were cut",
    fromRow: 0,
  });
});

/** Full and tapered, then down to the cut-off within two hours; the load at the end is given. */
function discharge(lastA: number) {
  const timeS = evenTimes(121, 60);
  const volts = Float64Array.from(timeS, (_, row) => 4.19 - (row / 120) * 1.4);
  const currentA = Float64Array.from(timeS, (_, row) => (row === 0 ? 1 : row === 120 ? -lastA : -20));
  return buildLog({ timeS, currentA, cellVoltagesV: [volts, volts, volts, volts] });
}

test("a full discharge names the load its cut-off was reached at, and a charge that has not tapered is not full", () => {
  const { cellMaxV, ratedCapacityAh } = plainModel;
  const found = (log: ReadingLog) => fullDischarge(surveyRows(log, ratedCapacityAh), cellMaxV, 2.8);
  expect(found(discharge(20))?.loadAtCutOffA).toBe(20);
  expect(found(discharge(150))?.loadAtCutOffA).toBe(150);
  const log = discharge(20);
  const charging = { ...log, currentA: log.currentA.map((ampere, row) => (row === 0 ? 20 : ampere)) };
  // Full is then the next row, which discharges from near the limit already.
  expect(found(charging)?.fromRow).toBe(1);
});

test("what a balancer takes while the pack rests is no drift, where the log tells of the balancer", () => {
  const acts = [{ act: "rest", hours: 60 }] as const;
  const log = simulatePack({ ...soundPack, intervalS: 600, acts });
  const bledUntilS = 30 * 3600;
  const balancingMask = log.timeS.map((at) => (at < bledUntilS ? 2 ** 3 : 0));
  expect(restDrift(surveyRows(log, plainModel.ratedCapacityAh))).not.toBeNull();
  expect(restDrift(surveyRows({ ...log, balancingMask }, plainModel.ratedCapacityAh))).toBeNull();
});
