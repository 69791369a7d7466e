import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { simulatePack } from "../../support/plain-pack";

// diagnostics.md R1.12: an efficiency far from 1 speaks of the sensor before it speaks of the cells.
const sound = simulatePack({
  seed: 8,
  model: plainModel,
  startPercent: 80,
  intervalS: 5,
  acts: [
    { act: "rest", hours: 1.5 },
    { act: "ride", minutes: 62, meanA: 32, peakA: 150 },
    { act: "rest", hours: 1.5 },
    { act: "charge", currentA: 16, toPercent: 80 },
    { act: "rest", hours: 1.5 },
  ],
});

/** The same pack, its discharge read by a sensor that shows so much of it. */
function readAt(share: number) {
  const currentA = sound.currentA.map((current) => (current < 0 ? share * current : current));
  const log = { ...sound, currentA };
  const { findings, suggestion, measurements } = diagnose({ log, summary: summaryOf(log), model: plainModel });
  return {
    faults: findings.map(({ fault }) => fault),
    missing: suggestion.missing.join(" "),
    remedy: suggestion.remedy,
    hasHealth: measurements.some(({ name }) => name === "state-of-health"),
  };
}

test("a current sensor by which charge is lost or gained calls no pack sound, one within its error does", () => {
  const whole = readAt(1);
  expect(whole.faults).toEqual(["no-fault-found"]);
  expect(whole.hasHealth).toBe(true);
  expect(whole.missing).not.toContain("current sensor");
  for (const share of [0.6, 1.2]) {
    const off = readAt(share);
    expect(off.faults).not.toContain("no-fault-found");
    expect(off.hasHealth).toBe(false);
    expect(off.missing).toContain("The current sensor is in question: between two rests");
    expect(["return-as-is", "remote-fix"]).not.toContain(off.remedy);
  }
});
