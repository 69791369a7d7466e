import { totalForecast } from "./forecast-total";
import { type PricedForecast, totalCost } from "./priced-forecast";
import type { BothLimits, Limits } from "./roll-forward";

/** 95 % limits of a reserve as they were kept; null where nothing could be told. */
export interface KeptLimits {
  readonly lower: number | null;
  readonly upper: number | null;
  readonly costLower: number | null;
  readonly costUpper: number | null;
}

export interface TotalLimits {
  readonly failures: BothLimits;
  readonly cost: BothLimits;
}

/**
 * 95 % limits of all revisions together, as kept then (the line without a revision) and as they come out today: of folded
 * distributions, so narrower than sums of the limits. Amounts are comparable in one currency alone.
 */
export function totalLimits(
  lines: readonly (KeptLimits & { readonly revisionId: string | null })[],
  today: readonly PricedForecast[],
  currencyChanged: boolean,
): TotalLimits {
  const then = lines.find(({ revisionId }) => revisionId === null);
  const counted = then?.lower == null || then.upper == null ? null : { lower: then.lower, upper: then.upper };
  return {
    failures: { opening: counted, closing: totalForecast(today, "cover-end") },
    cost: { opening: costLimitsOf(then), closing: currencyChanged ? null : totalCost(today, "cover-end") },
  };
}

export function costLimitsOf(line: Pick<KeptLimits, "costLower" | "costUpper"> | undefined): Limits | null {
  const { costLower, costUpper } = line ?? {};
  return costLower == null || costUpper == null ? null : { lower: costLower, upper: costUpper };
}
