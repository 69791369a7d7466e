import type { Evidence } from "@/lib/diagnosis/evidence";
import { median, scaledMad } from "@/lib/readings/measure/median";

/** One group's value against the other groups of the pack. */
export interface Compared {
  readonly group: number;
  readonly value: number;
  /** Value - median of the groups. */
  readonly excess: number;
  /** Excess over the scatter of the groups. */
  readonly z: number;
  readonly standardError: number;
}

/**
 * Compares groups with the median group in units of their own scatter (scaled MAD, not below `leastScatter`). Groups
 * whose readings are void, and NaN values, are left out. Fewer than 4 groups cannot be compared: empty.
 */
export function compareGroups(
  evidence: Evidence,
  values: ArrayLike<number>,
  errors: ArrayLike<number>,
  leastScatter: number,
): Compared[] {
  const kept = Array.from(values, (value, index) => (evidence.doubtfulGroups.has(index + 1) ? Number.NaN : value));
  const middle = median(kept);
  if (middle === null || kept.filter(Number.isFinite).length < 4) return [];
  const scatter = Math.max(leastScatter, scaledMad(kept) ?? 0);
  return kept.flatMap((value, index) => {
    if (!Number.isFinite(value)) return [];
    const excess = value - middle;
    return [{ group: index + 1, value, excess, z: excess / scatter, standardError: errors[index] ?? Number.NaN }];
  });
}
