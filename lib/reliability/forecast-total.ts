import { countQuantile } from "@/lib/stats/binomial-mixture";
import type { GroupForecast } from "./cover-forecast";
import type { TimeBeyond } from "./cover-spans";
import { countAt, type Horizon } from "./forecast-horizon";

export interface ForecastTotal {
  readonly horizon: Horizon;
  readonly expected: number;
  readonly unreported: number;
  readonly lower: number;
  readonly upper: number;
  /** Time within the horizon at ages older than any seen: nothing of it is in the numbers. */
  readonly beyond: TimeBeyond;
  readonly groups: number;
  /** Groups with packs under cover for which nothing could be foretold: the total leaves them out. */
  readonly leftOut: readonly string[];
  readonly packsLeftOut: number;
}

/** Counts less likely than this are cut off at both ends of a distribution. */
const NEGLIGIBLE = 1e-12;

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
  const expected = told.reduce((total, one) => total + one.expected, 0);
  const sum = foldCounts(told.map(({ distribution }) => distribution));
  return {
    horizon,
    expected,
    beyond: {
      packs: told.reduce((total, { beyond }) => total + beyond.packs, 0),
      packMonths: told.reduce((total, { beyond }) => total + beyond.packMonths, 0),
    },
    unreported: told.reduce((total, { unreported }) => total + unreported, 0),
    ...totalLimits(sum),
    groups: told.length,
    leftOut: leftOut.map(({ group }) => group.group),
    packsLeftOut: leftOut.reduce((total, { group }) => total + group.packsUnderCover, 0),
  };
}

/** A number of failures: probabilities from one number on. */
export interface Counts {
  /** Number of failures that the first share stands for. */
  readonly from: number;
  readonly shares: Float64Array;
}

/** Distribution of the sum of independent numbers. */
export function foldCounts(distributions: readonly Float64Array[]): Counts {
  return distributions.map(trimmed).reduce(folded, { from: 0, shares: Float64Array.of(1) });
}

/** 95 % limits of a number. */
export function totalLimits({ from, shares }: Counts): { readonly lower: number; readonly upper: number } {
  return { lower: from + countQuantile(shares, 0.025), upper: from + countQuantile(shares, 0.975) };
}

function trimmed(distribution: Float64Array): Counts {
  const first = distribution.findIndex((share) => share > NEGLIGIBLE);
  const last = distribution.findLastIndex((share) => share > NEGLIGIBLE);
  return { from: Math.max(0, first), shares: distribution.slice(Math.max(0, first), last + 1) };
}

function folded(a: Counts, b: Counts): Counts {
  const shares = new Float64Array(a.shares.length + b.shares.length - 1);
  for (const [i, share] of a.shares.entries()) {
    for (const [j, other] of b.shares.entries()) shares[i + j] = (shares[i + j] ?? 0) + share * other;
  }
  return { from: a.from + b.from, shares };
}
