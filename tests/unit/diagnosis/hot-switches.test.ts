import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { buildLog, evenTimes, summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { simulatePack } from "../../support/plain-pack";
import { fullUse } from "../../support/use-of-a-pack";

// Limits: 110 degC is a fault (reference, engineering default); 150 degC is what most silicon is rated to (from memory).

const everyTwoSeconds = simulatePack({ seed: 8, model: plainModel, acts: fullUse, intervalS: 2 });
const everyHalfMinute = simulatePack({ seed: 8, model: plainModel, acts: fullUse, intervalS: 30 });

function withSwitches(readC: (row: number, log: ReadingLog) => number, log = everyTwoSeconds) {
  const judged = { ...log, mosfetTemperatureC: Float64Array.from(log.timeS, (_, row) => readC(row, log)) };
  return { log, ...diagnose({ log: judged, summary: summaryOf(judged), model: plainModel }) };
}

const named = ({ findings }: ReturnType<typeof withSwitches>) => findings.map(({ fault }) => fault);

test("switches at 40 degC leave a sound pack sound", () => {
  expect(named(withSwitches(() => 40))).toEqual(["no-fault-found"]);
});

test("a log of any length whose last rows climb to 190 degC is never a sound pack", () => {
  const climbs = (row: number, log: ReadingLog) => {
    const left = log.rows - row;
    return left > 8 ? 40 : 60 + ((8 - left) * 130) / 7;
  };
  for (const log of [everyTwoSeconds, everyHalfMinute]) {
    const { findings, suggestion } = withSwitches(climbs, log);
    expect(findings[0]).toMatchObject({ fault: "acute-event", safetyClass: "A0" });
    expect(suggestion.remedy).toBe("isolate");
  }
});

test("switches seen at 160 degC for a few seconds are set apart: silicon that hot often fails shut", () => {
  const { findings, suggestion } = withSwitches((row) => (row >= 500 && row < 504 ? 160 : 60));
  expect(findings[0]).toMatchObject({ fault: "power-stage-fault", safetyClass: "A1" });
  expect(suggestion.remedy).toBe("isolate");
});

test("three rows above 110 degC are a fault of the switches however long the log is, one row is none", () => {
  const during = (rows: number) => withSwitches((row) => (row >= 500 && row < 500 + rows ? 118 : 60));
  expect(during(3).log.rows).toBeGreaterThan(4000);
  const { findings } = during(3);
  expect(findings.map(({ fault, safetyClass }) => [fault, safetyClass])).toEqual([["power-stage-fault", "B"]]);
  expect(findings[0]?.evidenceFor[0]).toContain("110 degC and more for 4 s (3 rows), 118 degC at most");
  expect(named(during(1))).toEqual(["no-fault-found"]);
});

test("switches that heat and cool by turns under pulses of load are as hot as if they stayed so", () => {
  const byTurns = withSwitches((row) => (row > 2000 && row < 3000 ? (row % 3 === 2 ? 105 : 140) : 45));
  expect(byTurns.findings.map(({ fault, safetyClass }) => [fault, safetyClass])).toEqual([["power-stage-fault", "B"]]);
  // Rows 2001 to 2999 but for every third: 666 rows, 2 s each.
  expect(byTurns.findings[0]?.evidenceFor[0]).toMatch(/in 666 rows within 33 min, with short breaks, 140 degC at most/);
  // The longest stretch is not the hottest.
  const hottest = withSwitches((row) => (row > 500 && row < 600 ? 115 : row > 900 && row < 904 ? 155 : 60));
  expect(hottest.findings[0]).toMatchObject({ fault: "power-stage-fault", safetyClass: "A1" });
});

test("hot rows each for itself, minutes apart, keep the pack from being called sound; one is told with its height", () => {
  // 5.1 h in steps of 2 s, one hot row in each 900.
  const apart = withSwitches((row) => (row % 900 === 450 ? 125 : 60));
  expect(named(apart)).toEqual([]);
  expect(apart.suggestion.remedy).toBe("cannot-tell");
  expect(apart.suggestion.missing.join(" ")).toMatch(
    /The switches read 110 degC and more in 10 rows, never for long, 125 degC at most: hold their temperature/,
  );
  const once = withSwitches((row) => (row === 450 ? 125 : 60)).findings[0];
  expect(once).toMatchObject({ fault: "no-fault-found" });
  expect(once?.evidenceAgainst.join(" ")).toContain(
    "Watch the switches: the switches read 110 degC and more in 1 row,",
  );
});

test("one warm row is all a slow log can show of it", () => {
  expect(named(withSwitches((row) => (row === 60 ? 118 : row === 59 ? 85 : 60), everyHalfMinute))).toEqual([
    "power-stage-fault",
  ]);
  expect(named(withSwitches((row) => (row === 60 ? 118 : 40), everyHalfMinute))).toEqual(["no-fault-found"]);
});

test("heat is said beside another fault of the switches", () => {
  const log = everyTwoSeconds;
  const off = Float64Array.from(log.currentA, (ampere) => (ampere < -20 ? 0 : 1));
  const hot = Float64Array.from(log.currentA, (ampere) => (ampere < -20 ? 125 : 60));
  const judged = { ...log, dischargeSwitch: off, mosfetTemperatureC: hot };
  const { findings } = diagnose({ log: judged, summary: summaryOf(judged), model: plainModel });
  const ofSwitches = findings.filter(({ fault }) => fault === "power-stage-fault");
  expect(ofSwitches.flatMap(({ evidenceFor }) => evidenceFor).join(" ")).toMatch(/commanded off.*110 degC and more/);
});

test("a reading of 255 degC that no warmth led up to, or -40, among others is a probe at fault, and no pack is called sound over it", () => {
  for (const noC of [255, 210, -40]) {
    const found = withSwitches((row) => (row % 50 === 0 ? noC : 40 + (row % 3)));
    expect(found.findings.map(({ fault, safetyClass }) => [fault, safetyClass])).toEqual([["temperature-sensor", "B"]]);
    expect(found.findings[0]?.evidenceFor[0]).toContain("Switch temperature reads");
  }
});

test("a board that carries no probe at its switches writes one number in every row: heat is not seen there, and no sound pack is accused", () => {
  for (const readC of [255, 210, -40, 0]) {
    const found = withSwitches(() => readC);
    expect(named(found)).toEqual(["no-fault-found"]);
    expect(found.unseen).toContainEqual(
      expect.objectContaining({
        fault: "power-stage-fault",
        because: expect.stringContaining(`their temperature reads ${readC} degC in every row`),
      }),
    );
  }
});

test("a board without that probe is not accused for odd rows either: cut frames, its first row, or another number it writes", () => {
  for (const [readC, oddRows, oddC] of [
    [255, 1, 0],
    [255, 1, 254],
    [-40, 1, 0],
    [255, 30, 0],
    [0, 3, 255],
  ] as const) {
    const found = withSwitches((row) => (row % 200 === 0 && row < 200 * oddRows ? oddC : readC));
    expect(named(found), `${readC} and ${oddC}`).toEqual(["no-fault-found"]);
    expect(found.unseen.map(({ because }) => because).join(" ")).toContain(
      `their temperature reads ${readC} degC in all but a few odd rows`,
    );
  }
  // One that measured through the first half of the log and then gave way did carry it.
  const gaveWay = withSwitches((row, log) => (row < log.rows / 2 ? 30 + (row % 3) : 255));
  expect(named(gaveWay)).toEqual(["temperature-sensor"]);
});

test("switches that warm while nothing flows are an emergency", () => {
  // The last 40 minutes of the log rest; from 20 minutes before its end on 3 K a minute.
  const { findings } = withSwitches((row, log) => {
    const left = (log.timeS[log.rows - 1] ?? 0) - (log.timeS[row] ?? 0);
    return left > 1200 ? 25 : 25 + (3 * (1200 - left)) / 60;
  });
  expect(findings[0]).toMatchObject({ fault: "acute-event", safetyClass: "A0" });
});

/** Half a minute between rows at rest, where from row 300 on a load takes the groups down by 10 mV a row and warms the switches by 2 K. */
function slowLoad(currentA: number) {
  const rows = 400;
  const loaded = (row: number) => Math.max(0, Math.min(5, row - 300));
  const log = buildLog({
    timeS: evenTimes(rows, 30),
    currentA: new Float64Array(rows).fill(currentA),
    cellVoltagesV: Array.from({ length: 16 }, (_, group) =>
      Float64Array.from({ length: rows }, (_, row) => 4.18 + 0.001 * ((row + group) % 3) - 0.01 * loaded(row)),
    ),
    packVoltageV: Float64Array.from({ length: rows }, (_, row) => 66.9 - 0.16 * loaded(row)),
    mosfetTemperatureC: Float64Array.from({ length: rows }, (_, row) => 27 + 0.1 * (row % 2) + 2 * loaded(row)),
  });
  return diagnose({ log, summary: summaryOf(log), model: plainModel }).findings.map(({ fault }) => fault);
}

test("switches that warm while all groups fall have a load, though no current was logged or it was zero whenever it was read", () => {
  expect(slowLoad(Number.NaN)).not.toContain("acute-event");
  expect(slowLoad(0)).not.toContain("acute-event");
});
