import { type LagWeightedCurve, lagWeightedSurvival } from "@/lib/stats/lag-weighted-survival";
import { type LifeCell, placeOf } from "./life-cell";
import { type Reporting, reportingAt } from "./reporting";

export interface CorrectedShare {
  readonly ageDays: number;
  readonly probability: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * The curve of confirmed failures with those that are on their way to us or undecided allowed for: each cell by the delay of its
 * own place where it has one, as comparisons weigh it.
 */
export function lagCorrectedCurve(cells: readonly LifeCell[], reporting: Reporting): LagWeightedCurve {
  return lagWeightedSurvival(
    cells
      .filter(({ line }) => line === "confirmed")
      .map((cell) => ({
        entry: cell.entryDays,
        exit: cell.exitDays,
        failed: cell.status === "failed",
        ageToday: cell.exitDays + cell.slackDays,
        count: cell.packs,
        shareKnown: reportingAt(reporting, placeOf(cell)).shareKnown,
      })),
    reporting.shareKnown,
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
