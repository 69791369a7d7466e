import type { SafetyClass } from "@/lib/diagnosis/finding";
import type { Danger } from "./danger-signs";
import { graverOf, mayNotBeMoved, type SafetyState } from "./safety-track";

const ofDanger: Readonly<Record<Danger["kind"], number>> = { "keep-away": 100, "set-apart": 60, none: 0 };
const ofClass: Readonly<Record<SafetyClass, number>> = { A0: 90, A1: 70, B: 40, U: 30, C: 10 };

/**
 * Order of the service queue: the riskiest first. A pack without a readable file ranks as one that cannot be diagnosed.
 * The numbers only order; they measure nothing. Engineering default, no authority.
 */
export function riskRank(danger: Danger["kind"], safetyClasses: readonly SafetyClass[]): number {
  return Math.max(
    ofDanger[danger],
    ...(safetyClasses.length === 0 ? [ofClass.U] : safetyClasses.map((found) => ofClass[found])),
  );
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
  return Math.max(atLodging, ofDanger[mayNotBeMoved(to) ? "keep-away" : "set-apart"]);
}
