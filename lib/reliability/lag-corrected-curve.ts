import { type LagWeightedCurve, lagWeightedSurvival } from "@/lib/stats/lag-weighted-survival";
import type { LifeCell } from "./life-cell";
import type { Reporting } from "./reporting";

export interface CorrectedShare {
  readonly ageDays: number;
  readonly probability: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * The curve of confirmed failures with those that are on their way to us or undecided allowed for. Cells of one group are
 * weighed by its own delay where there is one, cells of several by that of all.
 */
export function lagCorrectedCurve(cells: readonly LifeCell[], reporting: Reporting): LagWeightedCurve {
  const lives = cells.filter(({ line }) => line === "confirmed");
  const [first] = lives;
  const isOneGroup = first !== undefined && lives.every(({ group }) => group === first.group);
  const { shareKnown } = (isOneGroup ? reporting.ofGroup?.(first.group) : null) ?? reporting;
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
