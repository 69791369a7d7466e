import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { constant, summaryOf } from "../../support/log-builder";
import { type DoneToParked, parkedPack } from "../../support/parked-pack";
import { plainModel } from "../../support/plain-model";

const rows = 600;

/** A hundred minutes parked, a row every ten seconds. */
function judged(done: DoneToParked) {
  const log = parkedPack(rows, 10, done);
  const { findings, suggestion, unseen } = diagnose({ log, summary: summaryOf(log), model: plainModel });
  return { faults: findings.map(({ fault }) => fault), first: findings[0], suggestion, unseen };
}

test("a pack voltage that falls at rest while its groups do not, to the end of the file, is not told and kept away from", () => {
  const slide = (row: number) => -20 * Math.max(0, (row - 300) / 300);
  const step = (row: number) => (row < 400 ? 0 : -3.7);
  const inTheLastRow = (row: number) => (row < rows - 1 ? 0 : -3.7);
  for (const packV of [slide, step, inTheLastRow]) {
    const { faults, suggestion, unseen } = judged({ packV });
    expect(faults).not.toContain("no-fault-found");
    expect(suggestion.remedy).toBe("cannot-tell");
    expect(unseen.some(({ fault, beforeCurrent }) => fault === "acute-event" && beforeCurrent)).toBe(true);
    expect(suggestion.reasons.join(" ")).not.toMatch(/cycle|draw about|Log a ride/);
  }
});

test("groups that stop changing by a digit while the pack voltage falls are old values, and the pack is set apart", () => {
  const from = rows - 30;
  const falling = { packV: (row: number) => -11 * Math.max(0, (row - from) / 30) };
  const log = parkedPack(rows, 10, falling);
  const held = {
    ...log,
    cellVoltagesV: log.cellVoltagesV.map((column) => column.map((volt, row) => column[Math.min(row, from)] ?? volt)),
  };
  const { findings, suggestion } = diagnose({ log: held, summary: summaryOf(held), model: plainModel });
  expect(findings[0]).toMatchObject({ fault: "acute-event", safetyClass: "A0" });
  expect(findings[0]?.evidenceFor[0]).toContain("old values");
  expect(suggestion.remedy).toBe("isolate");
});

test("a fall that goes back is not sound either, and a meter comes before any current", () => {
  const { suggestion, unseen } = judged({ packV: (row) => (row > 300 && row < 360 ? -4 : 0) });
  expect(suggestion.remedy).toBe("cannot-tell");
  expect(unseen.find(({ beforeCurrent }) => beforeCurrent)?.because).toContain("falls 1 time at rest");
});

test("an output that is switched off, and a pack voltage that follows its groups, say nothing of the kind", () => {
  const off = judged({
    packV: (row) => (row < 300 ? 0 : -30),
    parts: () => ({ dischargeSwitch: constant(rows, 1).map((_, row) => (row < 300 ? 1 : 0)) }),
  });
  const nothingLeft = judged({ packV: (row) => (row < 300 ? 0 : -55) });
  const together = judged({ cellV: (row) => -0.2 * Math.max(0, (row - 300) / 300) });
  for (const { unseen } of [off, nothingLeft, together])
    expect(unseen.filter(({ because }) => because.includes("add up to"))).toEqual([]);
});
