import type { Fault, Finding } from "@/lib/diagnosis/finding";
import { confidence } from "@/lib/diagnosis/wording";

/** Intercept and slope of the logistic line from a rule's belief to a confidence. */
export type CalibrationLine = readonly [intercept: number, slope: number];
export type ConfidenceCalibration = Readonly<Record<Fault, CalibrationLine>>;

/**
 * Fitted by `tests/bench/diagnosis/fit-calibration.ts` to what 600 packs simulated with seed 37 gave under rules 2026-11-c to
 * 2026-11-e, 29 November 2026; beside each line how many of its findings were right. Held against 716 findings of seeds 41
 * and 43, 300 packs each, which it was not fitted to: Brier score 0.058 instead of 0.097; stated 0.97 was right 520 of 543
 * times (0.937 to 0.973), stated 0.06 once of 47 (0.001 to 0.113); between 0.4 and 0.7 only 13 findings lie, too few to say.
 * A simulation's mix of faults is not the field's: engineering default until confirmed faults can take its place.
 */
export const defaultCalibration: ConfidenceCalibration = {
  "weak-cell": [-1.65, 2.36], // 32 of 40 right
  "high-resistance-cell": [-2.1, 2.81], // 28 of 58 right
  "high-resistance-joint": [-2.07, 2.91], // 28 of 57 right
  "self-discharge": [-0.1, 3.55], // 45 of 45 right
  "sense-wire": [-0.2, 3.66], // 85 of 87 right
  "measurement-fault": [-0.36, 3], // 29 of 31 right
  "power-stage-fault": [-1.1, 3], // 19 of 21 right
  imbalance: [-0.66, 1.93], // 38 of 86 right
  "over-discharge": [-1.54, 2.24], // 26 of 29 right
  "temperature-sensor": [0.34, 3.61], // 60 of 60 right
  "water-ingress": [-0.67, 3.15], // 21 of 21 right
  "main-lead": [-0.09, 3.33], // 18 of 18 right
  "outside-cause": [-0.37, 3.36], // 21 of 21 right
  "no-fault-found": [-0.57, 3.49], // 149 of 152 right
  "mechanical-damage": [0, 1], // never simulated: a person sees it
  "acute-event": [-1.1, 2.28], // 25 of 26 right
};

/**
 * How often a finding believed so strongly was right: 1 / (1 + exp(-(a + b · logit(belief)))), Platt's logistic calibration
 * (1999). Belief from 0 to 1 in, confidence within 0.05 and 0.98 out.
 */
export function calibratedConfidence(belief: number, [intercept, slope]: CalibrationLine): number {
  const within = Math.min(0.99, Math.max(0.01, belief));
  return confidence(1 / (1 + Math.exp(-(intercept + slope * Math.log(within / (1 - within))))));
}

/** Findings with their beliefs turned into confidences, most likely first; an acute event stays first. */
export function calibrateFindings(findings: readonly Finding[], lines: ConfidenceCalibration): Finding[] {
  return findings
    .map((finding) => ({ ...finding, confidence: calibratedConfidence(finding.confidence, lines[finding.fault]) }))
    .toSorted((a, b) => weight(b) - weight(a));
}

function weight({ fault, confidence: likely }: Finding): number {
  return fault === "acute-event" ? 2 : likely;
}

const asBelieved: CalibrationLine = [0, 1];

/** Leaves every belief as it is: what a new table is fitted to. */
export const uncalibrated: ConfidenceCalibration = {
  "weak-cell": asBelieved,
  "high-resistance-cell": asBelieved,
  "high-resistance-joint": asBelieved,
  "self-discharge": asBelieved,
  "sense-wire": asBelieved,
  "measurement-fault": asBelieved,
  "power-stage-fault": asBelieved,
  imbalance: asBelieved,
  "over-discharge": asBelieved,
  "temperature-sensor": asBelieved,
  "water-ingress": asBelieved,
  "main-lead": asBelieved,
  "outside-cause": asBelieved,
  "no-fault-found": asBelieved,
  "mechanical-damage": asBelieved,
  "acute-event": asBelieved,
};
