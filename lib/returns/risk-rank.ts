import type { Danger } from "./danger-signs";
import { type RiskReason, riskReason } from "./queue-risk";
import { graverOf, mayNotBeMoved, type SafetyState } from "./safety-track";

const ofReason: Readonly<Record<RiskReason, number>> = {
  "signs going on": 100,
  "flagged: do not move": 95,
  A0: 90,
  "signs told": 80,
  "flagged: set apart": 75,
  A1: 70,
  B: 40,
  U: 30,
  C: 10,
};

/**
 * Order of the service queue by what was known at lodging: the riskiest first, as its words say (`riskReason`). A pack without a
 * readable file, or whose readings do not say what is to be done, ranks as one that cannot be diagnosed. The numbers
 * only order; they measure nothing. Engineering default, no authority.
 */
export function riskRank(danger: Danger["kind"], stored: readonly string[], suggestedRemedy: string | null): number {
  return ofReason[riskReason(danger, stored, "normal", suggestedRemedy)];
}

/** Above whatever was known at lodging: nobody has looked at it since. Only the order counts. Engineering default. */
const ofRaisedFlag = { isolate: 105, "do-not-move": 110, "incident-open": 110 } as const;

/**
 * The rank after the flag of the pack moved. Raised to set apart or graver puts the return at the head of the queue; lowered
 * but still set apart it ranks like one that was lodged so; with the flag off only what was known at lodging counts.
 */
export function riskRankUnderFlag(
  { from, to }: { readonly from: SafetyState; readonly to: SafetyState },
  atLodging: number,
): number {
  if (to !== "isolate" && to !== "do-not-move" && to !== "incident-open") return atLodging;
  if (graverOf(from, to) === to) return ofRaisedFlag[to];
  return Math.max(atLodging, ofReason[mayNotBeMoved(to) ? "flagged: do not move" : "flagged: set apart"]);
}
