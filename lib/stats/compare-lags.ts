import { isSparse } from "./drawn-homogeneity";
import { drawnLags } from "./drawn-lags";
import { LifeTally } from "./life-tally";
import { logRankOfRiskSets } from "./log-rank";
import type { TruncatedLag } from "./reverse-product-limit";
import { countsAtSharedAges, riskSets } from "./risk-sets";

export interface LagComparison {
  readonly kind: "test";
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  /** Of the log-rank test, or drawn where some groups have too few lags for that. */
  readonly p: number;
  /** Deals p was drawn from, or null where it is that of chi-square. */
  readonly draws: number | null;
}

/** By so little the level of the whole can rise. Engineering default, no authority. */
const SURE_BELOW = 0.001;

/**
 * Answers: do events of these groups become known equally fast, late ones not having been seen yet?
 *
 * Read backwards in time a lag that can be seen up to `longest` only is a life that comes under observation late, so the
 * log-rank test with delayed entry compares the reversed lags: at risk at lag w are the lags up to w of events at least w old.
 *
 * Many groups with a few lags each are called different by chi-square far too often, and reversed hazards that cross leave nothing of
 * its sum: failures of a young dealer that are all confirmed within days, say, beside slow ones. So p is drawn (`drawnLags`), of a
 * statistic that sees both, but where the log-rank test is sure already.
 *
 * @param groups lags of each group; whole numbers, as days are. "no-comparison" where no lag has two groups at risk.
 * Domain: two groups or more, else a RangeError. Sources: as `logRank`; Lagakos, Barraj & De Gruttola, Biometrika 75 (1988) 515-523.
 */
export function compareLags(
  groups: readonly (readonly TruncatedLag[])[],
): LagComparison | { readonly kind: "no-comparison" } {
  if (groups.length < 2) throw new RangeError("a comparison needs two groups or more");
  const beyond = groups.flat().reduce((most, { longest }) => Math.max(most, longest), 0) + 1;
  const reversed = groups.map((lags) => {
    const tally = new LifeTally();
    for (const { lag, longest, count = 1 } of lags) tally.add(beyond - longest - 1, beyond - lag, true, count);
    return tally.counts();
  });
  const sets = [...riskSets(reversed)];
  const test = logRankOfRiskSets([sets], groups.length);
  if (test.kind === "no-comparison") return test;
  const { chiSquare, degreesOfFreedom, p } = test;
  const isSure = p < SURE_BELOW && !isSparse(countsAtSharedAges([sets], groups.length));
  const drawn = isSure ? null : drawnLags(groups);
  return { kind: "test", chiSquare, degreesOfFreedom, p: drawn?.p ?? p, draws: drawn?.draws ?? null };
}
