/** The sixteen fault classes, F1 to F16, in the order of the fault table. */
export const faults = [
  "weak-cell",
  "high-resistance-cell",
  "high-resistance-joint",
  "self-discharge",
  "sense-wire",
  "measurement-fault",
  "power-stage-fault",
  "imbalance",
  "over-discharge",
  "temperature-sensor",
  "water-ingress",
  "main-lead",
  "outside-cause",
  "no-fault-found",
  "mechanical-damage",
  "acute-event",
] as const;

export type Fault = (typeof faults)[number];

/**
 * A0 acute: keep away. A1 critical: quarantine, no ordinary transport. B damaged or defective, not critical.
 * U cannot be diagnosed: treated as B, or A1 on any warning sign. C not damaged or defective.
 * Gravest first. The mapping from findings is an engineering default; a named person declares the class.
 */
export const safetyClasses = ["A0", "A1", "B", "U", "C"] as const;
export type SafetyClass = (typeof safetyClasses)[number];

/** Acute or critical: whatever else holds, the pack is set apart and somebody is told. */
export function isGrave(safetyClass: SafetyClass): boolean {
  return safetyClass === "A0" || safetyClass === "A1";
}

/** Classes of danger or damage: a later file that does not show it is no answer to it. What could not be judged (U), one may answer. */
export const classesThatStayTold: readonly SafetyClass[] = safetyClasses.filter((one) => isGrave(one) || one === "B");

export interface Finding {
  readonly fault: Fault;
  /** Series groups concerned, numbered from 1 at the negative end; empty where none can be named. */
  readonly groups: readonly number[];
  /** 0 to 1. */
  readonly confidence: number;
  readonly safetyClass: SafetyClass;
  readonly evidenceFor: readonly string[];
  readonly evidenceAgainst: readonly string[];
  /** The one test that separates this finding from its nearest rival. */
  readonly nextTest: string;
}

export interface Measurement {
  /** e.g. "resistance-10s", "rest-drift", "rest-spread". */
  readonly name: string;
  /** Series group from 1, or null for the whole pack. */
  readonly group: number | null;
  readonly value: number;
  readonly unit: string;
  /** One standard uncertainty in the same unit; null where none can be stated. */
  readonly uncertainty: number | null;
  readonly method: string;
  readonly conditions: string;
}

export const remedies = ["remote-fix", "repair", "replace", "isolate", "return-as-is", "cannot-tell"] as const;
export type Remedy = (typeof remedies)[number];

export interface Suggestion {
  readonly remedy: Remedy;
  /** Whole sentences for the bench, most weighty first. */
  readonly reasons: readonly string[];
  /** The same for somebody who is no technician: no numbers to weigh, nothing to test. */
  readonly plainReasons: readonly string[];
  /** What would make it another suggestion. */
  readonly wouldChange: readonly string[];
  /** What the readings could not show. */
  readonly missing: readonly string[];
  readonly ruleVersion: string;
}
