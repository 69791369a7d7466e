import { oncePerEvidence } from "@/lib/diagnosis/once-per-evidence";
import { type CountedCycles, countedCycles } from "@/lib/readings/measure/believable-cycles";

/** What the pack's own counter says, and whether it is believed; null where none was logged. */
export const ownCounter = oncePerEvidence(({ survey, model, summary }): CountedCycles | null =>
  countedCycles(survey, model, summary.builtUnixS ?? null),
);
