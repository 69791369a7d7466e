import type { Fault } from "@/lib/diagnosis/finding";
import type { DangerSign } from "@/lib/returns/danger-signs";

/**
 * What an assessor may look at, (a) to (f) of the note in special provision 376. Source: ADR 2025, chapter 3.3, special
 * provision 376, note (read in the German text of 2025); the words here are ours.
 */
export const criteria = [
  "acute-hazard",
  "use-or-misuse",
  "physical-damage",
  "short-circuit-protection",
  "safety-features",
  "internal-safety-components",
] as const;
export type Criterion = (typeof criteria)[number];

export const criterionLetters: Readonly<Record<Criterion, string>> = {
  "acute-hazard": "(a)",
  "use-or-misuse": "(b)",
  "physical-damage": "(c)",
  "short-circuit-protection": "(d)",
  "safety-features": "(e)",
  "internal-safety-components": "(f)",
};

export const criterionLabels: Readonly<Record<Criterion, string>> = {
  "acute-hazard": "Acute hazard: gas, fire or leaking electrolyte",
  "use-or-misuse": "Use or misuse of the battery",
  "physical-damage": "Physical damage: deformed case, discoloured case",
  "short-circuit-protection": "External and internal short-circuit protection, such as voltage or insulation measured",
  "safety-features": "Condition of the safety features",
  "internal-safety-components": "Damage to internal safety components, such as the battery management system",
};

/** What the assessor found under one criterion. "Not examined" is an answer, and keeps the pack from being called sound. */
export const criterionAnswers = ["sign-found", "no-sign", "not-examined"] as const;
export type CriterionAnswer = (typeof criterionAnswers)[number];

export const criterionAnswerLabels: Readonly<Record<CriterionAnswer, string>> = {
  "sign-found": "A sign was found",
  "no-sign": "Examined, no sign",
  "not-examined": "Not examined",
};

/** Which criterion a fault of the readings speaks to. Assignment: engineering default; null where it speaks to none. */
export const criterionOfFault: Readonly<Record<Fault, Criterion | null>> = {
  "weak-cell": null,
  "high-resistance-cell": null,
  "high-resistance-joint": "physical-damage",
  "self-discharge": "short-circuit-protection",
  "sense-wire": "internal-safety-components",
  "measurement-fault": "internal-safety-components",
  "power-stage-fault": "safety-features",
  imbalance: null,
  "over-discharge": "use-or-misuse",
  "temperature-sensor": "internal-safety-components",
  "water-ingress": "physical-damage",
  "main-lead": "physical-damage",
  "outside-cause": "use-or-misuse",
  "no-fault-found": null,
  "mechanical-damage": "physical-damage",
  "acute-event": "acute-hazard",
};

/** Which criterion a danger sign told by the dealer speaks to. Assignment: engineering default. */
export const criterionOfSign: Readonly<Record<DangerSign, Criterion>> = {
  hot: "acute-hazard",
  "smoke-or-smell": "acute-hazard",
  swollen: "physical-damage",
  leaking: "acute-hazard",
  "noise-from-inside": "acute-hazard",
  "impact-or-water": "physical-damage",
  "someone-hurt": "acute-hazard",
  "fire-or-damage-nearby": "acute-hazard",
};
