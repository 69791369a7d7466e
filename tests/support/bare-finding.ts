import type { Finding } from "@/lib/diagnosis/finding";

/** "No fault found" with nothing beside it, of which a test says what it needs. */
export const bareFinding: Finding = {
  fault: "no-fault-found",
  groups: [],
  confidence: 0.9,
  safetyClass: "C",
  evidenceFor: [],
  evidenceAgainst: [],
  nextTest: "",
};
