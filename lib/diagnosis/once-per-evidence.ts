import { oncePer } from "@/lib/readings/once-per";
import type { Evidence } from "./evidence";

/** Makes what is asked of one log by several rules be worked out once for it. */
export function oncePerEvidence<Answer extends object | null>(work: (evidence: Evidence) => Answer) {
  return oncePer(work);
}
