import type { DeviationMap } from "./deviation-map";
import { sayElapsed } from "./elapsed-words";

export interface GroupExtreme {
  readonly group: number;
  /** Mean of the stretches, mV; null where the group was never logged. */
  readonly meanMillivolt: number | null;
  readonly farthestMillivolt: number | null;
  /** Start of the stretch with the farthest row, s after the first row. */
  readonly atS: number | null;
}

/** How far each group lies off on average and at its farthest row: the map as a table. */
export function groupExtremes({ timeS, groups }: DeviationMap): GroupExtreme[] {
  return groups.map(({ meanMillivolt, farthestMillivolt }, index) => {
    const known = meanMillivolt.filter((value) => value !== null);
    let farthest: number | null = null;
    let bucket = 0;
    for (const [at, value] of farthestMillivolt.entries()) {
      if (value !== null && (farthest === null || Math.abs(value) > Math.abs(farthest))) {
        farthest = value;
        bucket = at;
      }
    }
    return {
      group: index + 1,
      meanMillivolt:
        known.length === 0 ? null : Math.round(known.reduce((sum, value) => sum + value, 0) / known.length),
      farthestMillivolt: farthest,
      atS: farthest === null ? null : (timeS[bucket] ?? null),
    };
  });
}

/** The same in one sentence: which group lies farthest off on average, and the farthest single row. */
export function deviationSentence(map: DeviationMap): string {
  const extremes = groupExtremes(map);
  const byMean = farthestBy(extremes, ({ meanMillivolt }) => meanMillivolt);
  const byRow = farthestBy(extremes, ({ farthestMillivolt }) => farthestMillivolt);
  if (byMean === null || byRow === null) return "No group was logged in a way that could be compared.";
  const mean = byMean.meanMillivolt ?? 0;
  const row = byRow.farthestMillivolt ?? 0;
  const lies =
    Math.abs(mean) < 1
      ? "On average no group lies off the median group"
      : `On average group ${byMean.group} lies farthest off, ${Math.abs(mean)} mV ${mean < 0 ? "below" : "above"} the median group`;
  return `${lies}; the farthest single row is group ${byRow.group}, ${Math.abs(row)} mV ${row < 0 ? "below" : "above"} it after about ${sayElapsed(byRow.atS ?? 0)}.`;
}

function farthestBy(extremes: readonly GroupExtreme[], of: (one: GroupExtreme) => number | null): GroupExtreme | null {
  return extremes.reduce<GroupExtreme | null>((best, one) => {
    const value = of(one);
    if (value === null) return best;
    return best === null || Math.abs(value) > Math.abs(of(best) ?? 0) ? one : best;
  }, null);
}
