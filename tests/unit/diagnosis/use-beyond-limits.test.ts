import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { buildLog, constant, evenTimes, probe, summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { simulatePack } from "../../support/plain-pack";
import { fullUse } from "../../support/use-of-a-pack";

const rows = 300;

function judged(change: (log: ReadingLog) => void, intervalS = 60) {
  const log = resting(change, intervalS);
  return diagnose({ log, summary: summaryOf(log), model: plainModel });
}

/** Sixteen groups of a resting pack, `change` made to it; one row every 60 s unless told. */
function resting(change: (log: ReadingLog) => void, intervalS = 60): ReadingLog {
  const log = buildLog({
    timeS: evenTimes(rows, intervalS),
    currentA: constant(rows, 0),
    packVoltageV: constant(rows, 16 * 3.6),
    cellVoltagesV: Array.from({ length: 16 }, () => constant(rows, 3.6)),
    temperatures: [1, 2, 3].map((number) => probe(`Temperature T${number}`, constant(rows, 24))),
  });
  change(log);
  return log;
}

function read(log: ReadingLog, group: number, from: number, to: number, volt: number): void {
  log.cellVoltagesV[group - 1]?.fill(volt, from, to);
}

test("heat no cell is stored at is never called harmless to the pack", () => {
  // All probes at 70 degC for an hour: 60 degC is the limit of storage, 80 degC the trigger of the acute screen.
  const { findings, suggestion } = judged((log) => {
    for (const { valuesC } of log.temperatures) valuesC.fill(70, 100, 160);
    for (const { valuesC } of log.temperatures)
      for (let step = 0; step < 100; step += 1) valuesC[step] = 24 + 0.46 * step;
  });
  expect(findings.find(({ fault }) => fault === "outside-cause")).toMatchObject({ safetyClass: "B" });
  expect(suggestion.remedy).not.toBe("remote-fix");
  expect(suggestion.plainReasons.join(" ")).toContain("does not count as sound");
});

test("heat that no charge, load or place explains is told as heat of unknown cause, and blamed on nobody", () => {
  // Warming by a quarter of a degree a minute up to 75 degC, half an hour there, and down again as slowly.
  const warmth = (row: number) => Math.max(24, Math.min(75, 24 + 0.5 * row, 24 + 0.5 * (rows - row)));
  const warmed = (probes: number, currentA: number) =>
    judged((log) => {
      for (const [place, { valuesC }] of log.temperatures.entries())
        for (let row = 0; row < rows; row += 1) valuesC[row] = place < probes ? warmth(row) : Number.NaN;
      for (let row = 0; row < rows; row += 1) log.currentA[row] = currentA * (1 + 0.01 * (row % 2));
      // The groups empty as the current asks: ones that stood still would be old values.
      const emptied = (row: number) => 3.6 + 0.00002 * currentA * row;
      for (const column of log.cellVoltagesV) for (let row = 0; row < rows; row += 1) column[row] = emptied(row);
      for (let row = 0; row < rows; row += 1) log.packVoltageV[row] = 16 * emptied(row);
    });
  for (const [probes, currentA] of [
    [3, -30],
    [3, -8],
    [1, 0],
  ] as const) {
    const { findings, suggestion } = warmed(probes, currentA);
    const heat = findings.find(({ fault }) => fault === "outside-cause");
    expect(heat, `${probes} probes, ${currentA} A`).toMatchObject({ safetyClass: "B" });
    expect(heat?.confidence).toBeLessThan(0.5);
    expect(heat?.evidenceFor[0]).toMatch(/^Heat, cause not known: 1 time, /);
    expect(suggestion.remedy).toBe("cannot-tell");
    expect(suggestion.plainReasons.join(" ")).not.toMatch(/used|cause outside/);
  }
  // At rest and alike everywhere the place has warmed it; a load beyond its limits explains heat too.
  for (const currentA of [0, -300]) {
    const told = warmed(3, currentA).findings.find(({ fault }) => fault === "outside-cause");
    expect(told?.evidenceFor.join(" ")).toContain("Hot: 1 time");
    expect(told?.confidence).toBeGreaterThan(0.5);
  }
});

test("heat between 60 and 80 degC is told at once, and from a minute on no pack is called sound beside it", () => {
  const sound = simulatePack({ seed: 8, model: plainModel, acts: fullUse, intervalS: 5 });
  // All probes warm by 0.6 K a minute to the end of the ride, stay for so many rows, and cool as slowly.
  const warmed = (mostC: number, rowsHot: number) => {
    const from = 1050;
    const temperatures = sound.temperatures.map(({ name, valuesC }) =>
      probe(
        name,
        valuesC.map((warm, row) => {
          const away = row < from ? from - row : Math.max(0, row - from - rowsHot);
          return Math.max(warm, mostC - 0.05 * away);
        }),
      ),
    );
    const log = { ...sound, temperatures };
    const { findings, suggestion } = diagnose({ log, summary: summaryOf(log), model: plainModel });
    return { finding: findings[0], remedy: suggestion.remedy, missing: suggestion.missing.join(" ") };
  };
  const beside = (mostC: number) => warmed(mostC, 0).finding?.evidenceAgainst.join(" ");
  expect(warmed(59, 60).finding?.fault).toBe("no-fault-found");
  expect(beside(59)).not.toContain("60 degC");
  expect(beside(60.2)).toContain("For less than a minute a probe read 60.2 degC");
  const minutes = warmed(64, 20);
  expect(minutes.finding).toBeUndefined();
  expect(minutes.remedy).toBe("cannot-tell");
  expect(minutes.missing).toMatch(/stood above 60 degC for 1\d min in all \(64 degC at most\)/);
});

test("one row under 1.5 V counts where the pack voltage bears it out, or nothing can and the rows lie far apart", () => {
  const low = (packV: number, intervalS: number) =>
    judged((log) => {
      read(log, 4, 150, 151, 1.2);
      log.packVoltageV[150] = packV;
      if (Number.isNaN(packV)) log.packVoltageV.fill(Number.NaN);
    }, intervalS).findings.find(({ fault }) => fault === "over-discharge");
  const expected = { groups: [4], safetyClass: "A1" };
  expect(low(16 * 3.6 - 2.4, 60)).toMatchObject(expected);
  expect(low(16 * 3.6 - 2.4, 1)).toMatchObject(expected);
  expect(low(Number.NaN, 60)).toMatchObject(expected);
  // A bad frame: the pack voltage stays, or a row a second later all is as before.
  expect(low(16 * 3.6, 60)).toBeUndefined();
  expect(low(Number.NaN, 1)).toBeUndefined();
});

test("a group alone above 4.35 V for more than five seconds is named, and the pack is not sound", () => {
  const over = (volt: number, lastingRows: number) =>
    judged((log) => {
      read(log, 7, 150, 150 + lastingRows, volt);
      log.packVoltageV.fill(16 * 3.6 + volt - 3.6, 150, 150 + lastingRows);
    }, 2).findings;
  expect(over(4.6, 10).find(({ fault }) => fault === "measurement-fault")).toMatchObject({
    groups: [7],
    safetyClass: "B",
  });
  expect(over(4.6, 10)[0]?.nextTest).toContain("Do not charge");
  // Two seconds of it, or less than the critical voltage: no finding of its own.
  for (const [volt, lastingRows] of [
    [4.6, 2],
    [4.34, 10],
  ] as const)
    expect(over(volt, lastingRows).map(({ fault }) => fault)).not.toContain("measurement-fault");
});

test("a whole pack above 4.35 V is overcharged from outside and at least damaged", () => {
  const { findings } = judged((log) => {
    for (let group = 1; group <= 16; group += 1) read(log, group, 150, 152, 4.4);
    log.packVoltageV.fill(16 * 4.4, 150, 152);
    log.currentA.fill(10, 140, 152);
  }, 10);
  expect(findings.find(({ fault }) => fault === "outside-cause")).toMatchObject({ safetyClass: "B" });
});

test("a whole pack at 4.27 V for two hours under a charger of 68.4 V is damaged, is not charged, and its charger is not used again", () => {
  const { findings, suggestion } = judged((log) => {
    for (let row = 100; row < 220; row += 1) {
      for (const [place, column] of log.cellVoltagesV.entries()) column[row] = 4.272 + 0.001 * ((row + place) % 3);
      log.packVoltageV[row] = 16 * 4.273 + 0.01 * (row % 2);
      log.currentA[row] = 10 + 0.1 * (row % 2);
    }
  });
  const cause = findings.find(({ fault }) => fault === "outside-cause");
  expect(cause).toMatchObject({ safetyClass: "B" });
  expect(cause?.nextTest).toMatch(/^Do not use this charger again/);
  expect(suggestion.remedy).not.toMatch(/remote-fix|return-as-is/);
  expect(suggestion.reasons[0]).toMatch(/^Do not charge it before the bench has seen it/);
});

test("one row above 4.35 V is all a slow log shows of it, and counts where the pack voltage bears it out", () => {
  const read480 = (group: number, packV: number, intervalS: number) =>
    judged((log) => {
      for (const row of [100, 200]) {
        read(log, group, row, row + 1, 4.8);
        log.packVoltageV[row] = packV;
      }
    }, intervalS);
  const over = (packV: number, intervalS: number) => read480(7, packV, intervalS);
  const { findings } = over(16 * 3.6 + 1.2, 60);
  expect(findings[0]).toMatchObject({ fault: "measurement-fault", groups: [7], safetyClass: "B" });
  expect(findings[0]?.evidenceFor[0]).toContain("one row at a time (worst 4.800 V)");
  // Rows a second apart would have shown more of it: named as seen, no finding, and no sound pack.
  const brief = over(16 * 3.6 + 1.2, 1);
  expect(brief.findings).toEqual([]);
  expect(brief.suggestion.missing.join(" ")).toContain("Group 7 read 4.800 V");
  expect(brief.measurements.find(({ name }) => name === "critical-over-voltage")).toMatchObject({ value: 4.8 });
  // A bad frame: the pack voltage stayed.
  expect(over(16 * 3.6, 60).measurements.map(({ name }) => name)).not.toContain("critical-over-voltage");
});

test("a whole pack that reads 4.8 V in one row of a slow log was overcharged from outside", () => {
  const { findings } = judged((log) => {
    for (let group = 1; group <= 16; group += 1) read(log, group, 150, 151, 4.8);
    log.packVoltageV.fill(16 * 4.8, 150, 151);
  });
  expect(findings.find(({ fault }) => fault === "outside-cause")).toMatchObject({ safetyClass: "B" });
});

test("how deep a discharge counts follows the chemistry, and the deep class asks for an hour at rest", () => {
  // Low from the first row on, because a fall at rest is an emergency. Data sheets of iron phosphate cells end at 2.0 V; the figure of 2.0 V for an hour is for cells that end at 2.5 V and more.
  const drained = (volt: number, lastingRows: number, cellMinV: number, currentA = 0, cellMaxV = 4.2) => {
    const log = resting((one) => {
      read(one, 4, 0, lastingRows, volt);
      one.packVoltageV.fill(16 * 3.6 + volt - 3.6, 0, lastingRows);
      // Not the same in every row: that would be a log that stands still.
      for (let row = 0; row < lastingRows; row += 1) one.currentA[row] = currentA * (1 + 0.01 * (row % 2));
    });
    const found = diagnose({ log, summary: summaryOf(log), model: { ...plainModel, cellMinV, cellMaxV } });
    const deep = found.measurements.some(({ name }) => name === "deep-over-discharge");
    return { deep, finding: found.findings.find(({ fault }) => fault === "over-discharge") };
  };
  expect(drained(1.95, 3, 2, -60, 3.65)).toEqual({ deep: false, finding: undefined });
  expect(drained(1.95, 90, 2.8).deep).toBe(true);
  expect(drained(1.95, 30, 2.8)).toMatchObject({ deep: false, finding: { groups: [4], safetyClass: "B" } });
  const underLoad = drained(1.85, 15, 2.8, -60);
  expect(underLoad.deep).toBe(false);
  expect(underLoad.finding?.evidenceFor[0]).toContain("under load only");
  expect(drained(1.65, 90, 2, 0, 3.65).deep).toBe(true);
  // C/20 out of 40 Ah sags by 2 mV: as good as rest. At C/2 the volts are the load's as well.
  const drawn = drained(1.85, 90, 2.8, -2);
  expect(drawn).toMatchObject({ deep: true, finding: { groups: [4] } });
  expect(drawn.finding?.evidenceFor[0]).toContain("under a small load");
  expect(drawn.finding?.evidenceAgainst.join(" ")).not.toContain("only under load");
  expect(drained(1.85, 90, 2.8, -20).deep).toBe(false);
  // A layered oxide is over-discharged under 2.5 V, however low its model lets it go.
  expect(drained(2.45, 30, 2.5)).toMatchObject({ finding: { groups: [4] } });
  expect(drained(2.45, 30, 2.5, 0, 3.65).finding).toBeUndefined();
  // A ride may end at the model's own limit: at C/2 its load takes a group some hundredths below it.
  expect(drained(2.46, 15, 2.5, -20).finding).toBeUndefined();
  expect(drained(2.38, 15, 2.5, -20)).toMatchObject({ finding: { groups: [4], safetyClass: "B" } });
  expect(drained(2.46, 15, 2.8, -20)).toMatchObject({ finding: { groups: [4], safetyClass: "B" } });
});

test("sodium-ion, charged to 4 V and used down to 1.5 V, is not taken for a layered oxide", () => {
  const drained = (volt: number, currentA: number) => {
    const log = resting((one) => {
      for (let group = 1; group <= 16; group += 1) read(one, group, 0, 90, volt + 0.003 * group);
      one.packVoltageV.fill(16 * (volt + 0.0255), 0, 90);
      for (let row = 0; row < 90; row += 1) one.currentA[row] = currentA * (1 + 0.01 * (row % 2));
    });
    const model = { ...plainModel, cellMinV: 1.5, cellMaxV: 4 };
    return diagnose({ log, summary: summaryOf(log), model }).findings.find(({ fault }) => fault === "over-discharge");
  };
  for (const [volt, currentA] of [
    [2.2, -20],
    [1.8, -2],
    [1.8, 0],
  ] as const)
    expect(drained(volt, currentA)).toBeUndefined();
  expect(drained(1.15, -2)).toMatchObject({ safetyClass: "B" });
  expect(drained(0.9, -2)).toMatchObject({ safetyClass: "A1" });
});

test("the first row of a slow log, or the first after a cut frame, with one group at 1.4 V counts only where the rows after bear it out", () => {
  const first = (from: number, volt: number, lasting: number, packFalls: boolean) =>
    judged((log) => {
      read(log, 4, from, from + lasting, volt);
      for (const column of log.cellVoltagesV) column.fill(0, Math.max(0, from - 6), from);
      if (packFalls) log.packVoltageV.fill(16 * 3.6 + volt - 3.6, from, from + lasting);
    }, 20).findings.find(({ fault }) => fault === "over-discharge");
  expect(first(0, 1.4, 1, false)).toBeUndefined();
  expect(first(100, 1.4, 1, false)).toBeUndefined();
  expect(first(0, 1.4, 1, true)).toMatchObject({ groups: [4], safetyClass: "A1" });
  expect(first(0, 1.4, 40, true)).toMatchObject({ groups: [4], safetyClass: "A1" });
});
