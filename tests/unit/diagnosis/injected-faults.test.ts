import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { type PlainPack, simulatePack } from "../../support/plain-pack";
import { seededRandom } from "../../support/seeded-random";
import { fullUse, parkedUse } from "../../support/use-of-a-pack";

const soundPack: PlainPack = { seed: 8, model: plainModel, acts: fullUse, intervalS: 2 };

function judged(log: ReadingLog) {
  return diagnose({ log, summary: summaryOf(log), model: plainModel });
}

function group(log: ReadingLog, number: number): Float64Array {
  const found = log.cellVoltagesV[number - 1];
  if (found === undefined) throw new Error(`no group ${number}`);
  return found;
}

test("a sound pack that was ridden, charged and rested has no fault found", () => {
  const { findings, suggestion, measurements } = judged(simulatePack(soundPack));
  expect(findings.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
  expect(suggestion.remedy).toBe("return-as-is");
  expect(measurements.every(({ value }) => Number.isFinite(value))).toBe(true);
  // diagnostics.md section 1: no measured value without its uncertainty; a count of rows or of the pack's own counter has none.
  expect(measurements.filter(({ uncertainty }) => uncertainty === null).map(({ name }) => name)).toEqual([]);
  expect(measurements.every(({ uncertainty }) => (uncertainty ?? -1) >= 0)).toBe(true);
});

test("a sound pack that was only parked cannot be called sound, however long it stood", () => {
  for (const hours of [3, 60]) {
    const log = simulatePack({ ...soundPack, intervalS: 60, acts: [{ act: "rest", hours }] });
    const { findings, suggestion } = judged(log);
    expect(findings).toEqual([]);
    expect(suggestion.remedy).toBe("cannot-tell");
    expect(suggestion.reasons[0]).toMatch(
      /^Current never exceeded 0 A \(20 A are needed\): resistance cannot be judged/,
    );
  }
});

test("a sound pack charged and parked, but never under load, is not classed as sound", () => {
  const acts = [
    { act: "charge", currentA: 16, toPercent: 96 },
    { act: "rest", hours: 60 },
  ] as const;
  const { findings, suggestion } = judged(simulatePack({ ...soundPack, intervalS: 30, startPercent: 20, acts }));
  expect(findings).toMatchObject([{ fault: "no-fault-found", safetyClass: "U" }]);
  expect(suggestion.remedy).toBe("cannot-tell");
});

test("an empty file cannot be judged", () => {
  const log = simulatePack({ ...soundPack, acts: [] });
  expect(judged(log)).toMatchObject({ findings: [], suggestion: { remedy: "cannot-tell" } });
});

test("30 % more resistance in one group is found there and nowhere else", () => {
  const { findings } = judged(simulatePack({ ...soundPack, resistanceFactor: { 9: 1.3 } }));
  expect(findings[0]).toMatchObject({ fault: "high-resistance-cell", groups: [9], safetyClass: "C" });
  expect(findings.flatMap(({ groups }) => groups)).toEqual([9, 9]);
});

test("a joint that opens during the ride is called a joint before a cell", () => {
  const jointMilliohm = { 9: (hour: number) => (hour > 1 ? 0.6 : 0) };
  const { findings, suggestion } = judged(simulatePack({ ...soundPack, jointMilliohm }));
  expect(findings[0]).toMatchObject({ fault: "high-resistance-joint", groups: [9] });
  expect(suggestion.remedy).toBe("repair");
});

test("a potted pack with a bad joint is replaced", () => {
  const log = simulatePack({ ...soundPack, jointMilliohm: { 9: (hour: number) => (hour > 1 ? 0.6 : 0) } });
  const { suggestion } = diagnose({ log, summary: summaryOf(log), model: plainModel, context: { potted: true } });
  expect(suggestion.remedy).toBe("replace");
});

test("a weak cell is told from an offset by both ends of charge", () => {
  const weak = judged(simulatePack({ ...soundPack, capacityFactor: { 4: 0.8 } })).findings[0];
  expect(weak).toMatchObject({ fault: "weak-cell", groups: [4] });
  const off = judged(simulatePack({ ...soundPack, offsetPercent: { 4: -6.5 } }));
  expect(off.findings[0]).toMatchObject({ fault: "imbalance", groups: [4] });
});

test("an offset is balanced from afar only where a rest of days excludes a leak, and never a large one", () => {
  const offset = (percent: number, restHours: number) => {
    const acts = [...fullUse, { act: "rest", hours: restHours }] as const;
    return judged(simulatePack({ ...soundPack, intervalS: 30, acts, offsetPercent: { 4: percent } }));
  };
  const untold = offset(-8, 0);
  expect(untold.findings[0]).toMatchObject({ fault: "imbalance", groups: [4], safetyClass: "U" });
  expect(untold.findings[0]?.nextTest).toMatch(/^Rest of 7 days with balancing off/);
  expect(untold.suggestion.remedy).toBe("cannot-tell");
  const calm = offset(-8, 60);
  expect(calm.findings[0]).toMatchObject({ fault: "imbalance", groups: [4], safetyClass: "C" });
  // 8 % of 40 Ah at the 50 mA of a small balancer: 64 h, not the one or two days of a small pack.
  expect(calm.findings[0]?.nextTest).toMatch(/^Supervised balance charge, about [56]\d h at 50 mA/);
  expect(calm.suggestion.remedy).toBe("remote-fix");
  const severe = offset(-18, 60);
  expect(severe.findings[0]).toMatchObject({ fault: "imbalance", safetyClass: "B" });
  expect(severe.suggestion.remedy).toBe("cannot-tell");
});

test("a leak of some milliamperes shows in two days of parking, a strong one is quarantined", () => {
  const parked = { ...soundPack, acts: parkedUse, intervalS: 60 };
  const slow = judged(simulatePack({ ...parked, leakA: { 6: 0.012 } })).findings[0];
  expect(slow).toMatchObject({ fault: "self-discharge", groups: [6], safetyClass: "B" });
  const strong = judged(simulatePack({ ...parked, leakA: { 6: 0.08 } }));
  expect(strong.findings[0]).toMatchObject({ fault: "self-discharge", groups: [6], safetyClass: "A1" });
  expect(strong.suggestion.remedy).toBe("isolate");
});

test("a tap that jumps voids its two groups and is a wiring matter", () => {
  const log = simulatePack(soundPack);
  const uniform = seededRandom(1);
  for (let row = 0; row < log.rows; row += 1) {
    if (uniform() > 0.03) continue;
    const errorV = 0.1 + 0.5 * uniform();
    group(log, 7)[row] = (group(log, 7)[row] ?? 0) + errorV;
    group(log, 8)[row] = (group(log, 8)[row] ?? 0) - errorV;
  }
  const { findings, suggestion } = judged(log);
  expect(findings.map(({ fault, groups }) => ({ fault, groups }))).toEqual([{ fault: "sense-wire", groups: [7, 8] }]);
  expect(suggestion.remedy).toBe("repair");
});

test("a stuck probe is found while the others warm up", () => {
  const log = simulatePack({ ...soundPack, ambientC: 25 });
  log.temperatures[0]?.valuesC.fill(21.5);
  expect(judged(log).findings).toMatchObject([{ fault: "temperature-sensor", safetyClass: "B" }]);
});

test("truncated frames are neither under-voltage nor an emergency", () => {
  const log = simulatePack(soundPack);
  for (let row = 500; row < log.rows; row += 400) {
    for (const cell of log.cellVoltagesV.slice(row % 7)) cell[row] = 0;
  }
  const { findings, measurements } = judged(log);
  expect(findings.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
  expect(measurements.find(({ name }) => name === "rows-with-implausible-groups")?.value).toBeGreaterThan(3);
});

test("a current sensor 0.1 A off is measured and breaks nothing", () => {
  const { findings, measurements } = judged(simulatePack({ ...soundPack, currentOffsetA: 0.1 }));
  expect(findings.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
  expect(Math.abs((measurements.find(({ name }) => name === "rest-current")?.value ?? 0) - 0.1)).toBeLessThan(0.01);
});

test("a block of groups that steps together while the pack voltage stays is a fault of the monitor", () => {
  const log = simulatePack(soundPack);
  for (const number of [9, 10, 11, 12]) {
    const cell = group(log, number);
    for (let row = Math.floor(log.rows / 2); row < log.rows; row += 1) cell[row] = (cell[row] ?? 0) + 0.04;
  }
  expect(judged(log).findings[0]).toMatchObject({ fault: "measurement-fault", groups: [9, 10, 11, 12] });
});

test("current through a switch that is commanded off is critical", () => {
  const log = simulatePack(soundPack);
  const off = log.currentA.map((current) => (current < -10 ? 0 : 1));
  const { findings } = judged({ ...log, dischargeSwitch: off, chargeSwitch: new Float64Array(log.rows).fill(1) });
  expect(findings[0]).toMatchObject({ fault: "power-stage-fault", safetyClass: "A1" });
});

test("charging in frost is an outside cause, not a fault of the pack", () => {
  const log = simulatePack({ ...soundPack, ambientC: -12 });
  const { findings } = judged(log);
  expect(findings.map(({ fault }) => fault)).toEqual(["outside-cause"]);
  expect(findings[0]?.evidenceFor[0]).toMatch(/^Cold charge: 1 time/);
});

test("a group drained below two volts is over-discharged", () => {
  const acts = [...fullUse, { act: "discharge", currentA: 12, toPercent: -12 }, { act: "rest", hours: 0.5 }] as const;
  const { findings } = judged(simulatePack({ ...soundPack, acts, capacityFactor: { 3: 0.8 } }));
  const found = findings.find(({ fault }) => fault === "over-discharge");
  expect(found).toMatchObject({ groups: [3] });
  expect(["A1", "B"]).toContain(found?.safetyClass);
});

test("a pack voltage rounded to 0.1 V and a current rounded to 0.1 A break nothing", () => {
  const log = simulatePack(soundPack);
  const rounded = (column: Float64Array) => column.map((value) => Math.round(value * 10) / 10);
  const { findings } = judged({
    ...log,
    packVoltageV: rounded(log.packVoltageV),
    currentA: rounded(log.currentA),
  });
  expect(findings.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
});

test("single frames of 255 degC and 65.535 V are bad frames, not broken probes or cells", () => {
  const log = simulatePack(soundPack);
  for (let row = 100; row < log.rows; row += 700) {
    const valuesC = log.temperatures[0]?.valuesC;
    if (valuesC !== undefined) valuesC[row] = 255;
    group(log, 3)[row + 50] = 65.535;
  }
  expect(judged(log).findings.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
});

test("groups sampled one row late refuse a resistance instead of giving a wrong one", () => {
  const log = simulatePack(soundPack);
  const late = log.cellVoltagesV.map((cell) => cell.map((_, row) => cell[Math.max(0, row - 1)] ?? Number.NaN));
  const { findings, suggestion, measurements, unseen } = judged({ ...log, cellVoltagesV: late });
  expect(findings.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
  expect(unseen.map(({ fault }) => fault)).toEqual(
    expect.arrayContaining(["high-resistance-cell", "high-resistance-joint"]),
  );
  expect(suggestion.reasons.join(" ")).toMatch(
    /Not shown: Resistance cannot be judged: group voltages do not (follow|move with) the current/,
  );
  expect(measurements.filter(({ name }) => name.startsWith("resistance-regression"))).toEqual([]);
});

test("without group voltages nothing can be told", () => {
  const { findings, suggestion } = judged({ ...simulatePack(soundPack), cellVoltagesV: [] });
  expect(findings).toEqual([]);
  expect(suggestion.remedy).toBe("cannot-tell");
});
