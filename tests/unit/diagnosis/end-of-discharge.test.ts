import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { fullDischarge } from "@/lib/readings/measure/discharge-capacity";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { buildLog, constant, evenTimes, probe, summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { simulatePack } from "../../support/plain-pack";
import { seededRandom } from "../../support/seeded-random";

// diagnostics.md section 0: a measurement fault makes every verdict on the cells void for the groups concerned.
test("a tap that jumps during a ride to half charge ends no discharge: no capacity, no health, no weak cell", () => {
  const acts = [
    { act: "rest", hours: 0.5 },
    { act: "ride", minutes: 45, meanA: 32, peakA: 150 },
    { act: "rest", hours: 0.5 },
  ] as const;
  const log = simulatePack({ seed: 8, model: plainModel, startPercent: 99, intervalS: 2, acts });
  const uniform = seededRandom(1);
  // The wire loosens towards the end of the ride, which lasts from minute 30 to minute 75.
  const errorV = Float64Array.from({ length: log.rows }, (_, row) =>
    row < 30 * 65 || uniform() > 0.1 ? 0 : 0.3 + uniform(),
  );
  const sign = (index: number) => (index === 6 ? 1 : index === 7 ? -1 : 0);
  const cellVoltagesV = log.cellVoltagesV.map((cell, index) =>
    cell.map((volt, row) => volt + sign(index) * (errorV[row] ?? 0)),
  );
  const jumping = { ...log, cellVoltagesV };
  const { findings, measurements } = diagnose({ log: jumping, summary: summaryOf(jumping), model: plainModel });
  expect(findings).toContainEqual(expect.objectContaining({ fault: "sense-wire", groups: [7, 8] }));
  expect(findings.map(({ fault }) => fault)).not.toContain("weak-cell");
  const names = measurements.map(({ name }) => name);
  expect(names).not.toContain("capacity-full-discharge");
  expect(names).not.toContain("state-of-health");
});

test("a ride that ends at the cut-off under a peak is no capacity, and says of no pack that it has aged early", () => {
  // 180 A are 4.5 C of 40 Ah: from full, 24 Ah come out until the first group is at its cut-off; 50 cycles by its counter.
  const built = {
    capacityAh: 40.6,
    groupResistanceMilliohm: Array(16).fill(0.9),
    loadTestCurrentA: 120,
    loadTestSagV: 1.9,
    matchingSpreadMillivolt: 4,
  };
  const against = (loadA: number) => {
    const rows = Math.round((24 / loadA) * 3600) + 61;
    const volts = Float64Array.from({ length: rows }, (_, row) =>
      row < 60 ? 4.19 : 4.1 - (1.3 * (row - 59)) / (rows - 60),
    );
    const log = buildLog({
      timeS: evenTimes(rows, 1),
      currentA: Float64Array.from({ length: rows }, (_, row) => (row < 60 ? 0 : -loadA)),
      packVoltageV: volts.map((volt) => 16 * volt),
      cellVoltagesV: Array.from({ length: 16 }, () => volts),
      temperatures: [probe("Temperature T1", constant(rows, 24))],
      cycleCount: Float64Array.from({ length: rows }, () => 50),
    });
    const judged = diagnose({
      log,
      summary: summaryOf(log),
      model: plainModel,
      baseline: { built, population: null, potted: null },
    });
    return { names: judged.measurements.map(({ name }) => name), told: (judged.besideBuilt ?? []).join(" ") };
  };
  const pressed = against(180);
  expect(pressed.told).not.toContain("aged early");
  expect(pressed.told).toContain("capacity is told at no more than 40 A");
  expect(pressed.names).toContain("charge-to-cut-off");
  expect(pressed.names).not.toContain("capacity-full-discharge");
  expect(pressed.names).not.toContain("state-of-health");
  const mild = against(20);
  expect(mild.told).toContain("24.0 Ah of the 40.6 Ah it was built with");
  expect(mild.told).toContain("94 to 104 % would be expected after 50 cycles");
  expect(mild.names).toContain("capacity-full-discharge");
});

/** From full to half charge in an hour at 20 A; in one row group 3 reads 2.5 V, and the pack voltage falls with it or not. */
function loneReading(packFalls: boolean) {
  const timeS = evenTimes(3601, 1);
  const volts = timeS.map((_, row) => 4.19 - (row / 3600) * 0.4);
  const low = volts.map((volt, row) => (row === 3000 ? 2.5 : volt));
  return buildLog({
    timeS,
    currentA: timeS.map((_, row) => (row === 0 ? 1 : -20)),
    packVoltageV: volts.map((volt, row) => 3 * volt + ((packFalls ? low[row] : volt) ?? 0)),
    cellVoltagesV: [volts, volts, low, volts],
  });
}

test("one reading out of nowhere ends a discharge only where the pack voltage bears it out", () => {
  const found = (packFalls: boolean) => fullDischarge(surveyRows(loneReading(packFalls), 40), 4.2, 2.8);
  expect(found(false)).toBeNull();
  // 20 A from the last row within 30 mV of the limit, second 180, to second 3000, by hand.
  expect(found(true)?.capacityAh).toBeCloseTo(15.67, 1);
});
