import { type LagWeightedCurve, lagWeightedSurvival } from "@/lib/stats/lag-weighted-survival";
import type { Reporting } from "./early-signals";
import type { FailureEstimate } from "./failure-estimate";
import type { LifeCell } from "./life-cell";

export interface CorrectedShare {
  readonly ageDays: number;
  readonly probability: number;
  readonly lower: number;
  readonly upper: number;
}

/** The curve of confirmed failures with those that are on their way to us or undecided allowed for. */
export function lagCorrectedCurve(cells: readonly LifeCell[], { shareKnown }: Reporting): LagWeightedCurve {
  const lives = cells.filter(({ line }) => line === "confirmed");
  return lagWeightedSurvival(
    lives.map(({ entryDays, exitDays, slackDays, status, packs }) => ({
      entry: entryDays,
      exit: exitDays,
      failed: status === "failed",
      ageToday: exitDays + slackDays,
      count: packs,
    })),
    shareKnown,
  );
}

/** The curve with late reports allowed for, as steps of the share failed; empty for no failures. */
export function correctedPoints({ steps }: LagWeightedCurve): CorrectedShare[] {
  if (steps.length === 0) return [];
  return [
    { ageDays: 0, probability: 0, lower: 0, upper: 0 },
    ...steps.map(({ age, survival, lower, upper }) => {
      return { ageDays: age, probability: 1 - survival, lower: 1 - upper, upper: 1 - lower };
    }),
  ];
}

/** The corrected share beside an estimate; null where the estimate itself cannot be told. */
export function correctedEstimate(curve: LagWeightedCurve, { kind, ageDays }: FailureEstimate): CorrectedShare | null {
  return kind === "estimate" ? correctedShareAt(curve, ageDays) : null;
}

/** The share failed by an age with late reports allowed for; null where too little is known yet at that age to correct. */
export function correctedShareAt(curve: LagWeightedCurve, ageDays: number): CorrectedShare | null {
  if (curve.endsBeforeAge !== null && ageDays >= curve.endsBeforeAge) return null;
  const last = correctedPoints(curve).findLast((point) => point.ageDays <= ageDays);
  return last === undefined || last.probability === 0 ? null : last;
}
