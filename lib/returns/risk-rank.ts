import type { SafetyClass } from "@/lib/diagnosis/finding";
import type { Danger } from "./danger-signs";

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
