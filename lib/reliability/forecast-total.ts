import type { GroupForecast } from "./cover-forecast";
import type { TimeBeyond } from "./cover-spans";
import { foldCounts, totalLimits } from "./fold-counts";
import { countAt, type Horizon, isRefusedForAges } from "./forecast-horizon";

/** A group that a total leaves out, and whether the ages it reaches are the reason (then a later day mends it) or its failures. */
export interface LeftOutGroup {
  readonly group: string;
  readonly isOfAges: boolean;
}

/** What the sum over groups is called in tables and files. */
export const ALL_TOLD = "All that can be told";

export interface ForecastTotal {
  readonly horizon: Horizon;
  readonly expected: number;
  readonly unreported: number;
  readonly lower: number;
  readonly upper: number;
  /** Time within the horizon at ages older than any seen: nothing of it is in the numbers. */
  readonly beyond: TimeBeyond;
  readonly groups: number;
  /** Packs under cover of these groups, and the failures their laws rest on. */
  readonly packsUnderCover: number;
  readonly failures: number;
  /** Of these groups those whose law is lent its shape. */
  readonly lent: readonly string[];
  /** Groups with packs under cover for which nothing could be foretold: the total leaves them out. */
  readonly leftOut: readonly LeftOutGroup[];
  readonly packsLeftOut: number;
}

/**
 * The sum over groups: expected numbers add up, limits do not, so the distributions are folded into one. The groups' fits
 * are taken as independent of each other, being made from different packs. Null where no group can be foretold.
 */
export function totalForecast(
  groups: readonly (GroupForecast & { readonly group: string })[],
  horizon: Horizon,
): ForecastTotal | null {
  const at = groups.map((group) => ({ group, forecast: countAt(group, horizon) }));
  const told = at.flatMap(({ forecast }) => (forecast === null ? [] : [forecast]));
  if (told.length === 0) return null;
  const leftOut = at.filter(({ group, forecast }) => forecast === null && group.packsUnderCover > 0);
  const inIt = at.flatMap(({ group, forecast }) => (forecast === null ? [] : [group]));
  const expected = told.reduce((total, one) => total + one.expected, 0);
  // A lent law is widened upwards alone: folded, the upper halves of many would lift the lower limit too.
  const limits = totalLimits(foldCounts(told.map(({ distribution }) => distribution)));
  const hasDrawn = told.some(({ drawn }) => drawn !== undefined);
  const forLower = hasDrawn ? totalLimits(foldCounts(told.map((one) => one.drawn ?? one.distribution))) : limits;
  return {
    horizon,
    expected,
    beyond: {
      packs: told.reduce((total, { beyond }) => total + beyond.packs, 0),
      packMonths: told.reduce((total, { beyond }) => total + beyond.packMonths, 0),
    },
    unreported: told.reduce((total, { unreported }) => total + unreported, 0),
    lower: forLower.lower,
    upper: limits.upper,
    groups: told.length,
    packsUnderCover: inIt.reduce((total, { packsUnderCover }) => total + packsUnderCover, 0),
    failures: inIt.reduce((total, { failures }) => total + failures, 0),
    lent: inIt.flatMap(({ group, basis }) => ("refused" in basis.law || !basis.law.lent ? [] : [group])),
    leftOut: leftOut.map(({ group }) => ({ group: group.group, isOfAges: isRefusedForAges(group, horizon) })),
    packsLeftOut: leftOut.reduce((total, { group }) => total + group.packsUnderCover, 0),
  };
}
