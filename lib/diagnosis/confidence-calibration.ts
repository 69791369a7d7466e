import type { Fault, Finding } from "@/lib/diagnosis/finding";
import { confidence } from "@/lib/diagnosis/wording";

/** Intercept and slope of the logistic line from a rule's belief to a confidence. */
export type CalibrationLine = readonly [intercept: number, slope: number];
export type ConfidenceCalibration = Readonly<Record<Fault, CalibrationLine>>;

/**
 * Fitted by `tests/bench/diagnosis/fit-calibration.ts` to what 300 packs simulated with seed 37 gave under rules 2026-11-g,
 * 29 November 2026; beside each line how many of its findings were right, beliefs under 0.3 (explained by another finding)
 * left out. A finding is right where that very class was planted at those groups: what a fault brings about besides (a leak
 * in a wet pack) counts as wrong, because its remedy is another. Held against 131 findings of seed 61, which it was not
 * fitted to: Brier score 0.063 instead of 0.093; stated 0.97 was right 81 of 88 times (0.843 to 0.967), stated 0.05 once of
 * 30. Held again under rules 2026-11-v against 761 findings of 600 packs of seed 179, which nothing was fitted to: Brier score
 * 0.050; a fit to 300 packs of seed 173 under these rules gives 0.049 there, so the table stays. A simulation's mix of faults is not the field's: engineering default until confirmed faults can take its place.
 */
export const defaultCalibration: ConfidenceCalibration = {
  "weak-cell": [-1.34, 3.33], // 16 of 17 right
  "high-resistance-cell": [-1.47, 3.67], // 15 of 27 right
  "high-resistance-joint": [-1.35, 3.58], // 14 of 29 right
  "self-discharge": [-1.17, 3.36], // 10 of 10 right
  "sense-wire": [-1.63, 1.78], // 17 of 21 right; two of the others in one wet pack whose water did not show
  "measurement-fault": [-0.79, 3.52], // 13 of 13 right
  "power-stage-fault": [-1.27, 3.25], // 12 of 12 right
  imbalance: [-2.24, 3.12], // 11 of 35 right
  "over-discharge": [-1.83, 2.63], // 13 of 15 right
  "temperature-sensor": [-1.17, 2.76], // 20 of 21 right
  "water-ingress": [-1.19, 3.35], // 12 of 12 right
  "main-lead": [-0.89, 3.47], // 8 of 8 right
  "outside-cause": [-1.03, 3.51], // 12 of 12 right
  "no-fault-found": [-0.82, 3.39], // 90 of 93 right
  "mechanical-damage": [0, 1], // never simulated: a person sees it
  "acute-event": [-1.27, 3.23], // 12 of 12 right
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
