import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import type { CurrentSign } from "@/lib/readings/reading-log";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { simulatePack } from "../../support/plain-pack";
import { fullUse } from "../../support/use-of-a-pack";

const log = simulatePack({ seed: 8, model: plainModel, acts: fullUse, intervalS: 10 });
/** A sound pack ridden in the frost with its charge switch off, its current logged the other way round. */
const mirrored = {
  ...log,
  currentA: log.currentA.map((ampere) => -ampere),
  chargeSwitch: Float64Array.from(log.currentA, (ampere) => (ampere < -5 ? 0 : 1)),
  temperatures: log.temperatures.map((probe) => ({ ...probe, valuesC: probe.valuesC.map((warm) => warm - 40) })),
};

function judged(currentSign: CurrentSign) {
  return diagnose({ log: mirrored, summary: summaryOf(mirrored, { currentSign }), model: plainModel });
}

test("a current whose direction was guessed wrongly turns riding into charging through a switch that is off", () => {
  const found = judged("charge-positive").findings.map(({ fault }) => fault);
  expect(found).toEqual(expect.arrayContaining(["power-stage-fault", "outside-cause"]));
});

test("a current whose direction nobody knows accuses neither switch nor rider, and no pack is called sound by it", () => {
  const { findings, suggestion, measurements, unseen } = judged("unknown");
  expect(findings).toEqual([]);
  expect(suggestion.remedy).toBe("cannot-tell");
  expect(suggestion.missing.join(" ")).toContain("not known which way the current counts");
  expect(unseen.find(({ fault }) => fault === "weak-cell")?.because).toBe(
    "State of charge cannot be followed: it is not known which way the current counts.",
  );
  expect(unseen.find(({ fault }) => fault === "outside-cause")?.because).toContain("which way the current counts");
  const names = measurements.map(({ name }) => name);
  for (const counted of ["coulombic-efficiency", "energy-discharged", "largest-discharge", "cold-charge-moved"])
    expect(names, counted).not.toContain(counted);
});

test("a pack at rest needs no direction", () => {
  const resting = { ...log, currentA: new Float64Array(log.rows) };
  const { suggestion } = diagnose({
    log: resting,
    summary: summaryOf(resting, { currentSign: "unknown" }),
    model: plainModel,
  });
  expect(suggestion.missing.join(" ")).not.toContain("which way");
});
