import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { idleCurrent } from "@/lib/readings/measure/idle-current";
import { openCircuitCurve } from "@/lib/readings/measure/open-circuit";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { buildLog, constant, evenTimes, summaryOf } from "../../../support/log-builder";
import { plainModel } from "../../../support/plain-model";
import { simulatePack } from "../../../support/plain-pack";

/** Ten hours at 3.9 V but for what the group in the middle moves by from beginning to end; the sensor reads so many A, the last digit unsteady. */
function parked(readsA: number, movesV = 0, startV = 3.9) {
  const rows = 600;
  return buildLog({
    timeS: evenTimes(rows, 60),
    currentA: Float64Array.from({ length: rows }, (_, row) => readsA + 0.05 * ((row % 3) - 1)),
    packVoltageV: constant(rows, 16 * startV),
    cellVoltagesV: Array.from({ length: 16 }, () =>
      Float64Array.from({ length: rows }, (_, row) => startV + (movesV * row) / rows),
    ),
  });
}

const curve = openCircuitCurve(plainModel);
const found = (log: ReturnType<typeof parked>, by = curve) => idleCurrent(surveyRows(log, 40), by);

test("0.8 A through eight settled hours in which no group moves is the zero of the sensor, at the limit of a rest as well", () => {
  // 0.8 A for 7.98 h are 16 % of 40 Ah, which between 70 and 90 % of charge is more than 100 mV.
  expect(found(parked(0.8))).toMatchObject({
    hours: expect.closeTo(7.98, 1),
    currentA: expect.closeTo(0.8, 2),
    movedV: 0,
  });
  expect(found(parked(0.8))?.wouldMoveV).toBeGreaterThan(0.1);
});

test("a current that moves the groups is a current, and so may be one on the flat of a curve, or one of which the curve says nothing", () => {
  expect(found(parked(0.8, 0.12))).toBeNull();
  const flat = openCircuitCurve({
    ...plainModel,
    cellMaxV: 3.65,
    openCircuit: [
      [0, 2.5],
      [10, 3.27],
      [90, 3.33],
      [100, 3.65],
    ],
  });
  expect(found(parked(0.8, 0, 3.3), flat)).toBeNull();
  expect(found(parked(0.8), null)).toBeNull();
  expect(found(parked(0.01))).toBeNull();
});

test("the verdict on a sound pack says what such a sensor miscounts in a day", () => {
  const acts = [
    { act: "rest", hours: 1 },
    { act: "ride", minutes: 50, meanA: 32, peakA: 150 },
    { act: "charge", currentA: 16, toPercent: 80 },
    { act: "rest", hours: 9 },
  ] as const;
  const log = simulatePack({ seed: 8, model: plainModel, startPercent: 80, intervalS: 5, acts, currentOffsetA: 0.8 });
  const { suggestion, findings } = diagnose({ log, summary: summaryOf(log), model: plainModel });
  const said = [...suggestion.missing, ...findings.flatMap(({ evidenceAgainst }) => evidenceAgainst)].join(" ");
  expect(said).toMatch(/Watch the current: .*0\.80 A .*19\.\d Ah/);
});
