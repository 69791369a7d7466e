import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { buildLog, constant, evenTimes, probe, summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";

const rows = 400;
const startRow = 300;

/** Sixteen groups at 3.9 V parked for 400 rows of 10 s, three probes at 24 degC: `change` breaks it from row 300 on. */
function parkedLog(change: (log: ReadingLog, row: number, minutes: number) => void, intervalS = 10): ReadingLog {
  const log = buildLog({
    timeS: evenTimes(rows, intervalS),
    currentA: constant(rows, 0),
    packVoltageV: constant(rows, 16 * 3.9),
    cellVoltagesV: Array.from({ length: 16 }, () => constant(rows, 3.9)),
    temperatures: [1, 2, 3].map((number) => probe(`Temperature T${number}`, constant(rows, 24))),
  });
  for (let row = startRow; row < rows; row += 1) change(log, row, ((row - startRow) * intervalS) / 60);
  return log;
}

function first(log: ReadingLog) {
  const { findings, suggestion } = diagnose({ log, summary: summaryOf(log), model: plainModel });
  return { fault: findings[0]?.fault, safetyClass: findings[0]?.safetyClass, remedy: suggestion.remedy, findings };
}

const acute = { fault: "acute-event", safetyClass: "A0", remedy: "isolate" };

function set(log: ReadingLog, group: number, row: number, volt: number): void {
  const cell = log.cellVoltagesV[group - 1];
  if (cell !== undefined) cell[row] = volt;
}

test("a group lost together with its share of the pack voltage is an emergency", () => {
  for (const lost of [0, Number.NaN, 5]) {
    const log = parkedLog((broken, row) => {
      set(broken, 6, row, lost);
      broken.packVoltageV[row] = 15 * 3.9;
    });
    expect(first(log), `reads ${lost}`).toMatchObject(acute);
  }
});

test("the same group lost while the pack voltage stays is not", () => {
  const log = parkedLog((broken, row) => set(broken, 6, row, 0));
  expect(first(log).findings.map(({ fault }) => fault)).not.toContain("acute-event");
});

test("an output switched off is not an emergency", () => {
  const log = parkedLog((broken, row) => {
    broken.packVoltageV[row] = 0.3;
  });
  expect(first(log).findings).toEqual([]);
});

test("a pack voltage that falls and stands while every group goes silent is an emergency, an output that decays or a switched-off one is none", () => {
  const silence = (log: ReadingLog, row: number) => {
    for (let group = 1; group <= 16; group += 1) set(log, group, row, Number.NaN);
  };
  const died = parkedLog((broken, row) => {
    silence(broken, row);
    broken.packVoltageV[row] = 14 * 3.9;
  });
  expect(first(died)).toMatchObject(acute);
  expect(first(died).findings[0]?.evidenceAgainst).not.toEqual([]);
  const decaying = parkedLog((broken, row, minutes) => {
    silence(broken, row);
    broken.packVoltageV[row] = 14 * 3.9 * Math.exp(-minutes / 3);
  });
  const switchedOff = { ...died, dischargeSwitch: constant(rows, 1).fill(0, startRow) };
  for (const log of [decaying, switchedOff])
    expect(first(log).findings.map(({ fault }) => fault)).not.toContain("acute-event");
});

test("a group that sinks within minutes at rest, the pack voltage with it, is an emergency", () => {
  const log = parkedLog((broken, row, minutes) => {
    const fall = Math.min(1.5, 0.1 * minutes);
    set(broken, 11, row, 3.9 - fall);
    broken.packVoltageV[row] = 16 * 3.9 - fall;
  });
  expect(first(log)).toMatchObject(acute);
  expect(first(log).findings[0]?.groups).toEqual([11]);
});

test("a probe that warms 1.5 K a minute while no current flows is an emergency, at 10 s and at 60 s sampling", () => {
  for (const intervalS of [10, 60]) {
    const log = parkedLog((broken, row, minutes) => {
      const valuesC = broken.temperatures[1]?.valuesC;
      if (valuesC !== undefined) valuesC[row] = 24 + 1.5 * minutes;
    }, intervalS);
    expect(first(log), `${intervalS} s`).toMatchObject(acute);
  }
});

test("a probe that jumps to its rail is a broken probe", () => {
  const log = parkedLog((broken, row) => {
    const valuesC = broken.temperatures[1]?.valuesC;
    if (valuesC !== undefined) valuesC[row] = 150;
  });
  expect(first(log)).toMatchObject({ fault: "temperature-sensor" });
  expect(first(log).findings.map(({ fault }) => fault)).not.toContain("acute-event");
});

test("a pack carried from frost into a warm room warms slowly and is no emergency", () => {
  const log = parkedLog((broken, row, minutes) => {
    for (const { valuesC } of broken.temperatures) valuesC[row] = 24 - 20 * Math.exp(-minutes / 60) + 20;
  }, 60);
  expect(first(log).findings.map(({ fault }) => fault)).not.toContain("acute-event");
});

test("an emergency is never answered with no fault found, even with nothing else in the file", () => {
  const log = parkedLog((broken, row) => {
    set(broken, 1, row, Number.NaN);
    broken.packVoltageV[row] = 15 * 3.9;
  });
  const whole = first(log);
  expect(whole.findings.map(({ fault }) => fault)).toEqual(["acute-event"]);
});

test("a group near zero volts isolates the pack until a meter has told a dead group from a lost wire", () => {
  for (const volt of [0.489, 0.02, 0, -0.3]) {
    const log = parkedLog(() => undefined);
    log.cellVoltagesV[11]?.fill(volt);
    log.packVoltageV.fill(Number.NaN);
    const { findings, remedy } = first(log);
    expect(remedy, `reads ${volt} V`).toBe("isolate");
    expect(findings.map(({ fault, groups, safetyClass }) => ({ fault, groups, safetyClass }))).toEqual([
      { fault: "over-discharge", groups: [12], safetyClass: "A1" },
      { fault: "sense-wire", groups: [12], safetyClass: "B" },
    ]);
  }
});

test("near zero late and for a few rows counts as well, also at the last group", () => {
  for (const [group, from, to] of [
    [5, 390, 394],
    [16, 370, 400],
  ] as const) {
    const log = parkedLog(() => undefined);
    log.packVoltageV.fill(Number.NaN);
    for (let row = from; row < to; row += 1) set(log, group, row, group === 16 ? 0 : 0.4);
    expect(first(log).remedy, `group ${group}`).toBe("isolate");
  }
});

test("where the pack voltage still holds the volts it is a lost wire, where it lacks them a dead group", () => {
  const lost = parkedLog((broken, row) => set(broken, 6, row, 0.2));
  expect(first(lost)).toMatchObject({ fault: "sense-wire", safetyClass: "B", remedy: "repair" });
  const dead = parkedLog(() => undefined);
  dead.cellVoltagesV[5]?.fill(0.2);
  dead.packVoltageV.fill(15 * 3.9 + 0.2);
  expect(first(dead)).toMatchObject({ fault: "over-discharge", safetyClass: "A1", remedy: "isolate" });
});

test("a channel that is held while the others recover from a load is a board fault, not a collapse", () => {
  const log = parkedLog(() => undefined);
  for (const [index, column] of log.cellVoltagesV.entries())
    for (let row = 0; row < rows; row += 1) {
      const recovering = row < startRow ? 3.5 : 3.9 - 0.4 * Math.exp(-(row - startRow) / 15);
      column[row] = index === 8 && row >= startRow ? 3.5 : recovering + 0.001 * ((row + index) % 3);
    }
  for (let row = 0; row < rows; row += 1) {
    log.currentA[row] = row < startRow ? -20 - (row % 5) : 0;
    log.packVoltageV[row] = 15 * (log.cellVoltagesV[0]?.[row] ?? 0) + 3.5;
  }
  expect(first(log).findings.map(({ fault }) => fault)).not.toContain("acute-event");
});

test("a small current that flows for an hour through a switch commanded off is critical, not taken for sensor noise", () => {
  const log = parkedLog(() => undefined);
  const dischargeSwitch = constant(rows, 1);
  for (let row = 150; row < rows; row += 1) {
    log.currentA[row] = -1.7;
    dischargeSwitch[row] = 0;
  }
  const found = first({ ...log, dischargeSwitch, chargeSwitch: constant(rows, 1) });
  expect(found).toMatchObject({ fault: "power-stage-fault", safetyClass: "A1", remedy: "isolate" });
});

test("dead terminals while the discharge switch is on are an open switch, also in a full pack whose charge switch is off", () => {
  for (const chargeOn of [1, 0]) {
    const log = parkedLog((broken, row) => {
      broken.packVoltageV[row] = 0.1;
    });
    const found = first({ ...log, dischargeSwitch: constant(rows, 1), chargeSwitch: constant(rows, chargeOn) });
    expect(found).toMatchObject({ fault: "power-stage-fault", safetyClass: "B" });
  }
});

test("what a file without switch states, rest of days or pack voltage cannot show is named with its reason", () => {
  const log = parkedLog(() => undefined);
  log.packVoltageV.fill(Number.NaN);
  const { unseen } = diagnose({ log, summary: summaryOf(log), model: plainModel });
  expect(unseen.map(({ fault }) => fault)).toEqual(
    expect.arrayContaining(["self-discharge", "water-ingress", "main-lead", "measurement-fault", "power-stage-fault"]),
  );
  expect(unseen.find(({ fault }) => fault === "self-discharge")?.because).toBe(
    "A slow leak cannot be seen here: no rest of two days was logged.",
  );
  // What only a person can see or smell no file shows, however long.
  expect(unseen.at(-1)?.fault).toBe("mechanical-damage");
});

test("without a logged current, the first moment of a load in the few groups a board has refreshed is no collapse; a group's own fall is", () => {
  const unlogged = (log: ReadingLog) => ({ ...log, currentA: constant(rows, Number.NaN) });
  const load = parkedLog((log, row) => {
    log.packVoltageV[row] = 16 * 3.6;
    // Four groups at a time: the first four are read with the load, the others some rows later.
    for (let group = 1; group <= 16; group += 1)
      set(log, group, row, row - startRow >= Math.floor((group - 1) / 4) * 2 ? 3.6 : 3.9);
  });
  expect(first(unlogged(load)).findings.map(({ fault }) => fault)).not.toContain("acute-event");
  const collapse = parkedLog((log, row) => {
    set(log, 6, row, 3.6);
    log.packVoltageV[row] = 15 * 3.9 + 3.6;
  });
  expect(first(unlogged(collapse))).toMatchObject(acute);
  // The board opens its switches in the same row, as it does on under-voltage: no load takes a pack to nothing.
  const opened = parkedLog((log, row) => {
    set(log, 6, row, 3.3);
    log.packVoltageV[row] = 0.3;
  });
  expect(first(unlogged(opened))).toMatchObject(acute);
});

test("a load that came and went between two rows, shown a few groups at a time, is no collapse once all were read; where the others kept their volts it is one", () => {
  // The pack comes from a load. All groups give 0.3 V in another that nobody logged; four are read at once, four more eight rows later and so on.
  const readIn = (othersV: number) => {
    const log = parkedLog((one, row) => {
      one.packVoltageV[row] = 16 * 3.6;
      for (let group = 1; group <= 16; group += 1) {
        const turn = Math.floor((group - 1) / 4);
        const isRead = row - startRow >= turn * 8;
        set(one, group, row, isRead ? (turn === 0 ? 3.6 : othersV) : 3.9);
      }
    }, 60);
    log.currentA.fill(-5, startRow - 60, startRow - 1);
    return first(log);
  };
  expect(readIn(3.6).findings.map(({ fault }) => fault)).not.toContain("acute-event");
  expect(readIn(3.899)).toMatchObject(acute);
});
