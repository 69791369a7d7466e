import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { summaryOf } from "../../support/log-builder";
import { parkedPack } from "../../support/parked-pack";
import { plainModel } from "../../support/plain-model";

const rows = 600;

function judged(log: ReadingLog) {
  const { findings, suggestion, unseen } = diagnose({ log, summary: summaryOf(log), model: plainModel });
  return {
    faults: findings.map(({ fault }) => fault),
    suggestion,
    dangers: unseen.flatMap(({ because, beforeCurrent }) => (beforeCurrent === true ? [because] : [])),
  };
}

function silentFrom(fromRow: number, groups: readonly number[], reads: number): ReadingLog {
  const log = parkedPack(rows, 10, {});
  const cellVoltagesV = log.cellVoltagesV.map((column, index) =>
    groups.includes(index + 1) ? column.map((volt, row) => (row < fromRow ? volt : reads)) : column,
  );
  return { ...log, cellVoltagesV };
}

const all = Array.from({ length: 16 }, (_, index) => index + 1);

test("groups that fall silent and stay so are not sound, and a meter at their wire comes before any current", () => {
  for (const [groups, who] of [
    [[7], "group 7 gives no sensible voltage any more"],
    [[3, 7], "groups 3 and 7 give no sensible voltage any more"],
    [all, "no group gives a sensible voltage any more"],
  ] as const)
    for (const reads of [Number.NaN, 65.535]) {
      const { faults, suggestion, dangers } = judged(silentFrom(rows - 60, groups, reads));
      expect(faults).not.toContain("no-fault-found");
      expect(suggestion.remedy).toBe("cannot-tell");
      expect(dangers[0]).toContain(who);
      expect(suggestion.reasons.at(-1)).toContain("with a meter at the monitor's connector");
      expect(suggestion.reasons.join(" ")).not.toMatch(/cycle|draw about|Log a ride/);
      expect(suggestion.plainReasons).toContain("Do not charge it and do not ride it.");
    }
});

test("a frame or two that were lost as the log ends, and a board that went to sleep, are no silence", () => {
  expect(judged(silentFrom(rows - 3, [7], Number.NaN)).dangers).toEqual([]);
  const asleep = silentFrom(rows - 60, all, Number.NaN);
  const off = (column: Float64Array) => column.map((value, row) => (row < rows - 60 ? value : Number.NaN));
  const log = { ...asleep, currentA: off(asleep.currentA), packVoltageV: off(asleep.packVoltageV) };
  expect(judged(log).dangers).toEqual([]);
});

test("groups that read the same to the last digit in every row, though they move, were not measured one by one", () => {
  const log = parkedPack(rows, 10, { cellV: (row) => -0.0001 * row });
  const [first] = log.cellVoltagesV;
  const copied = { ...log, cellVoltagesV: log.cellVoltagesV.map((column) => first ?? column) };
  const { faults, dangers } = judged(copied);
  expect(faults).not.toContain("no-fault-found");
  expect(dangers.join(" ")).toContain("nobody measured the cells one by one");
  expect(judged(log).dangers.join(" ")).not.toContain("one by one");
});

test("a live case, and an alarm of heat or of current to the case, ask for what looks at them and for no current", () => {
  const insulation = Float64Array.from({ length: rows }, (_, row) => (row < rows - 100 ? 5000 : 2));
  const flags = (bit: number) => Int32Array.from({ length: rows }, (_, row) => (row === 300 ? 1 << bit : 0));
  const base = parkedPack(rows, 10, {});
  for (const log of [
    { ...base, insulationKiloohm: insulation },
    { ...base, protectionFlags: Float64Array.from(flags(1)) },
    { ...base, protectionFlags: Float64Array.from(flags(22)) },
  ]) {
    const { suggestion, dangers } = judged(log);
    expect(dangers).toHaveLength(1);
    expect(suggestion.remedy).toBe("cannot-tell");
    expect(suggestion.plainReasons).toContain("Do not charge it and do not ride it.");
    expect(suggestion.reasons.join(" ")).not.toMatch(/cycle|draw about|Log a ride/);
  }
});
