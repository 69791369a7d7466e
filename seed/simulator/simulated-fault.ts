import type { Fault } from "@/lib/diagnosis/finding";

/** What the simulator was told to break, kept beside each file it writes. */
export interface SimulatedFault {
  readonly fault: Fault;
  /** Series groups concerned, numbered from 1 at the negative end; empty where none is concerned. */
  readonly groups: readonly number[];
  /** Slight: at the edge of what a reading can show. Clear: as a bench would call it. Severe: plain to anyone. */
  readonly severity: Severity;
}

export type Severity = "slight" | "clear" | "severe";
