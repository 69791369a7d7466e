import type { Evidence } from "@/lib/diagnosis/evidence";
import { poorlyFitted } from "@/lib/readings/measure/group-state-fit";
import { median, quantile, scaledMad } from "@/lib/readings/measure/median";

/** A group that no cause fitted describes, by where it stands apart from the others: at the emptiest and at the fullest rows. */
export interface UnlikePattern {
  readonly group: number;
  /** V against the median group at the low and the high end of the charge the log goes through. */
  readonly lowV: number;
  readonly highV: number;
  /** Falls away towards empty as a weak group does, or stays behind towards full as one of less charge. */
  readonly likely: "weak-cell" | "imbalance";
}

/**
 * Where the curve is flat the scale of charge may be missed and no fit holds, but the order of charge is counted and stays: a
 * group that sags only at the emptiest rows falls behind as the pack empties (diagnostic pattern of low capacity).
 */
export function unlikePatterns({ states, charge, doubtfulGroups, survey, settings }: Evidence): UnlikePattern[] {
  if (states === null || charge === null) return [];
  if (charge.window[1] - charge.window[0] < settings.verdict.capacityWindowPercent) return [];
  const poor = [...poorlyFitted(states)].filter((group) => !doubtfulGroups.has(group));
  if (poor.length === 0) return [];
  const { shapeLeastV, shapeScatters, shapeOtherEndShare, shapeEnds } = settings.verdict;
  const [low, high] = shapeEnds.map((share) => quantile(charge.socPercent, share) ?? Number.NaN);
  const apartV = (inEnd: (percent: number) => boolean) => {
    const rows = charge.rows.filter((_, place) => inEnd(charge.socPercent[place] ?? Number.NaN));
    return survey.log.cellVoltagesV.map(
      (column) =>
        median(Array.from(rows, (row) => (column[row] ?? Number.NaN) - (survey.referenceV[row] ?? Number.NaN))) ??
        Number.NaN,
    );
  };
  const atLow = apartV((percent) => percent <= (low ?? Number.NaN));
  const atHigh = apartV((percent) => percent >= (high ?? Number.NaN));
  const tells = (volt: number, column: readonly number[]) =>
    Math.abs(volt) >= Math.max(shapeLeastV, shapeScatters * (scaledMad(column) ?? Number.POSITIVE_INFINITY));
  return poor.flatMap((group): UnlikePattern[] => {
    const lowV = atLow[group - 1] ?? Number.NaN;
    const highV = atHigh[group - 1] ?? Number.NaN;
    if (lowV < 0 && tells(lowV, atLow) && highV >= shapeOtherEndShare * lowV)
      return [{ group, lowV, highV, likely: "weak-cell" }];
    if (highV < 0 && tells(highV, atHigh) && lowV >= shapeOtherEndShare * highV)
      return [{ group, lowV, highV, likely: "imbalance" }];
    return [];
  });
}
