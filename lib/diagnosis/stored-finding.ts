import { type Fault, type Finding, faults, isGrave, type SafetyClass, safetyClasses } from "@/lib/diagnosis/finding";

/** The two words of a finding as they are stored: text, possibly written by another release. */
export interface StoredWords {
  readonly fault: string;
  readonly safetyClass: string;
}

export interface ReadWords {
  readonly fault: Fault;
  readonly safetyClass: SafetyClass;
  /** The stored fault is one this release knows; else `fault` only stands for it, and nobody is told that name. */
  readonly isKnownFault: boolean;
}

export function readStoredFault(stored: string): Fault | null {
  return faults.find((known) => known === stored) ?? null;
}

/** A class nobody knows any more cannot be judged; it is never one of a sound pack. */
export function readStoredClass(stored: string): SafetyClass {
  return safetyClasses.find((known) => known === stored) ?? "U";
}

/**
 * A stored finding in the words of this release: the one place where an unknown word is judged. A class it knows is kept
 * whatever the fault is called, so that a danger stays one; an unknown fault is taken for the gravest kind where its class is
 * grave, else for a board that measures wrongly, whose readings nobody relies on.
 */
export function readStoredFinding<Row extends StoredWords>(row: Row): Omit<Row, keyof StoredWords> & ReadWords {
  const { fault: stored, safetyClass: storedClass, ...others } = row;
  const safetyClass = readStoredClass(storedClass);
  const known = readStoredFault(stored);
  const standsFor: Fault = isGrave(safetyClass) ? "acute-event" : "measurement-fault";
  return { ...others, fault: known ?? standsFor, safetyClass, isKnownFault: known !== null };
}

/** Stored findings for a suggestion made anew. One whose fault is unknown counts by its class alone: no remedy rests on it. */
export function findingsToJudge(rows: readonly (Omit<Finding, keyof StoredWords> & StoredWords)[]): Finding[] {
  return rows
    .map(readStoredFinding)
    .map(({ isKnownFault, ...one }) => (isKnownFault ? one : { ...one, confidence: 0 }));
}
