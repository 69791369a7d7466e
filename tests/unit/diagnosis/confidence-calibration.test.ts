import { expect, test } from "vitest";
import {
  calibratedConfidence,
  calibrateFindings,
  defaultCalibration,
  uncalibrated,
} from "@/lib/diagnosis/confidence-calibration";
import { type Fault, type Finding, faults } from "@/lib/diagnosis/finding";

const found = (fault: Fault, confidence: number): Finding => ({
  fault,
  groups: [1],
  confidence,
  safetyClass: "B",
  evidenceFor: [],
  evidenceAgainst: [],
  nextTest: "",
});

test("a stronger belief is never a smaller confidence, and every confidence stays within what a log can carry", () => {
  for (const fault of faults) {
    const said = [0.05, 0.2, 0.4, 0.5, 0.6, 0.8, 0.95, 0.98].map((belief) =>
      calibratedConfidence(belief, defaultCalibration[fault]),
    );
    expect(said, fault).toEqual(said.toSorted((a, b) => a - b));
    expect(Math.min(...said)).toBeGreaterThanOrEqual(0.05);
    expect(Math.max(...said)).toBeLessThanOrEqual(0.98);
  }
});

test("the line of intercept 0 and slope 1 leaves a belief as it is; slope 2 squares its odds", () => {
  expect(calibratedConfidence(0.7, [0, 1])).toBe(0.7);
  // Odds 3 to 1 become 9 to 1.
  expect(calibratedConfidence(0.75, [0, 2])).toBe(0.9);
});

test("findings are put in the order of their confidences, and an acute event stays first", () => {
  const beliefs = [found("acute-event", 0.6), found("sense-wire", 0.7), found("weak-cell", 0.65)];
  const lines = { ...uncalibrated, "sense-wire": [-2, 1] } as const;
  expect(calibrateFindings(beliefs, lines).map(({ fault }) => fault)).toEqual([
    "acute-event",
    "weak-cell",
    "sense-wire",
  ]);
});
