import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { type PlainPack, simulatePack } from "../../support/plain-pack";
import { fullUse } from "../../support/use-of-a-pack";

const soundPack: PlainPack = { seed: 8, model: plainModel, acts: fullUse, intervalS: 2 };

/** The file without a pack voltage, its readings shifted by V of each group. */
function shifted(byV: Readonly<Record<number, number>>, pack: PlainPack = soundPack) {
  const log = simulatePack(pack);
  const cellVoltagesV = log.cellVoltagesV.map((column, index) => column.map((volt) => volt + (byV[index + 1] ?? 0)));
  const unseen = { ...log, packVoltageV: new Float64Array(log.rows).fill(Number.NaN), cellVoltagesV };
  return diagnose({ log: unseen, summary: summaryOf(unseen), model: plainModel }).findings.map(({ fault, groups }) => ({
    fault,
    groups,
  }));
}

// diagnostics.md 1.10: an offset of charge is e_k = dSoC_k · slope(SoC); a shift that no charge changes is a reading (F6, and F5 for a pair).
test("groups that read the same volts too high at every charge are a fault of the monitor, not of their charge", () => {
  expect(shifted({ 5: 0.1, 6: 0.1, 7: 0.1, 8: 0.1 })).toEqual([{ fault: "measurement-fault", groups: [5, 6, 7, 8] }]);
});

test("two neighbours that read the same volts apart in opposite directions share a sense wire", () => {
  expect(shifted({ 11: 0.042, 12: -0.042 })).toEqual([{ fault: "sense-wire", groups: [11, 12] }]);
});

test("one end group that reads too low throughout is told from an imbalance", () => {
  expect(shifted({ 1: -0.08 })).toEqual([{ fault: "measurement-fault", groups: [1] }]);
});

test("groups that really hold another charge remain an imbalance", () => {
  const offsetPercent = { 5: -8, 6: -8, 7: -8, 12: 7 };
  expect(shifted({}, { ...soundPack, offsetPercent })).toEqual([{ fault: "imbalance", groups: [5, 6, 7, 12] }]);
});

test("a group that lies drained far below the others is over-discharged, not a reading that is off", () => {
  const log = simulatePack({ ...soundPack, acts: fullUse });
  const cellVoltagesV = log.cellVoltagesV.map((column, index) =>
    index === 5 ? column.map((volt) => Math.max(0.8, volt - 2.9)) : column,
  );
  const packVoltageV = log.packVoltageV.map((volt) => volt - 2.9);
  const drained = { ...log, cellVoltagesV, packVoltageV };
  const { findings } = diagnose({ log: drained, summary: summaryOf(drained), model: plainModel });
  expect(findings.map(({ fault }) => fault)).not.toContain("measurement-fault");
  expect(findings).toContainEqual(expect.objectContaining({ fault: "over-discharge", groups: [6], safetyClass: "A1" }));
});

test("where the curve of the model is not known, its bends prove nothing and no reading is said to be off", () => {
  const { openCircuit: _untold, ...untold } = plainModel;
  const offsetPercent = { 2: -11 };
  const log = simulatePack({ ...soundPack, offsetPercent });
  const faultsOf = (cellVoltagesV: ReadingLog["cellVoltagesV"]) => {
    const file = { ...log, cellVoltagesV, packVoltageV: new Float64Array(log.rows).fill(Number.NaN) };
    return diagnose({ log: file, summary: summaryOf(file), model: untold }).findings.map(({ fault }) => fault);
  };
  expect(faultsOf(log.cellVoltagesV)).toContain("imbalance");
  const shiftedBlock = log.cellVoltagesV.map((column, index) =>
    index >= 4 && index <= 7 ? column.map((volt) => volt + 0.1) : column,
  );
  expect(faultsOf(shiftedBlock)).not.toContain("measurement-fault");
});
