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

/**
 * News that nobody has looked at yet. What may be going on now comes before all that was known at lodging; a pack that was set apart
 * since comes before what was told at lodging and is over, and after what is going on now. Only the order counts. Engineering defaults.
 */
const ofRaisedFlag = { isolate: 85, "do-not-move": 110, "incident-open": 110 } as const;

/**
 * The rank after the flag of the pack moved. Raised to set apart or graver it puts the return before those whose flag is known;
 * lowered but still set apart it ranks like one that was lodged so; with the flag off only what was known at lodging counts. A
 * flag never ranks a return lower than what was known at lodging.
 */
export function riskRankUnderFlag(
  { from, to }: { readonly from: SafetyState; readonly to: SafetyState },
  atLodging: number,
): number {
  if (to !== "isolate" && to !== "do-not-move" && to !== "incident-open") return atLodging;
  const ofLowered = ofReason[mayNotBeMoved(to) ? "flagged: do not move" : "flagged: set apart"];
  return Math.max(atLodging, graverOf(from, to) === to ? ofRaisedFlag[to] : ofLowered);
}
