import type { Evidence } from "@/lib/diagnosis/evidence";
import { oncePerEvidence } from "@/lib/diagnosis/once-per-evidence";
import { type CountedCycles, countedCycles } from "@/lib/readings/measure/believable-cycles";

/** What the pack's own counter says, and whether it is believed; null where none was logged. */
export function ownCounter(evidence: Evidence): CountedCycles | null {
  return counters(evidence).counted;
}

const counters = oncePerEvidence<{ readonly counted: CountedCycles | null }>(({ survey, model, summary }) => ({
  counted: countedCycles(survey, model, summary.builtUnixS ?? null),
}));
