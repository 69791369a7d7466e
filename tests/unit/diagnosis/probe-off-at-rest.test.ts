import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { type PlainPack, simulatePack } from "../../support/plain-pack";
import { fullUse, parkedUse } from "../../support/use-of-a-pack";

/** The first of three probes reads so many K apart from what it sits on, from the first row on. */
function offBy(byK: number, changes: Partial<PlainPack> = {}) {
  const log = simulatePack({ seed: 31, model: plainModel, acts: parkedUse, intervalS: 60, ...changes });
  const temperatures = log.temperatures.map((probe, place) =>
    place === 0 ? { ...probe, valuesC: probe.valuesC.map((warm) => warm + byK) } : probe,
  );
  const file = { ...log, temperatures };
  const { findings } = diagnose({ log: file, summary: summaryOf(file), model: plainModel });
  return findings.find(({ fault }) => fault === "temperature-sensor");
}

test("a probe that stays colder than all others for hours is off: nothing in a pack cools one place", () => {
  expect(offBy(-14)?.confidence).toBeGreaterThan(0.5);
});

test("a probe that reads warm in a pack whose groups hold their charge is off: no group gives off such heat", () => {
  const off = offBy(14);
  expect(off?.confidence).toBeGreaterThan(0.5);
  expect(off?.evidenceAgainst.join(" ")).toContain("No group loses as much charge at rest");
});

test("a leak of 1 % a day of 40 Ah is 16 mA and 60 mW, which keep no place 14 K warm", () => {
  expect(offBy(14, { leakA: { 4: 0.0167 } })?.confidence).toBeGreaterThan(0.5);
});

test("a leak of 1 A gives off 3.8 W: such a place may truly be warm, and the sensor is not sure to be off", () => {
  const off = offBy(14, { leakA: { 4: 1 }, startPercent: 95 });
  expect(off?.confidence ?? 0).toBeLessThan(0.5);
});

test("where no rest of days tells what the groups lose, a place may be warm", () => {
  const acts = [...fullUse, { act: "rest", hours: 9 } as const];
  expect(offBy(14, { acts })?.confidence).toBeLessThan(0.5);
});
