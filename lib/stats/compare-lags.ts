import { LifeTally } from "./life-tally";
import { type LogRankResult, logRank } from "./log-rank";
import type { TruncatedLag } from "./reverse-product-limit";

/**
 * Answers: do events of these groups become known equally fast, late ones not having been seen yet?
 *
 * Read backwards in time a lag that can be seen up to `longest` only is a life that comes under observation late, so the
 * log-rank test with delayed entry compares the reversed lags: at risk at lag w are the lags up to w of events at least w old.
 *
 * @param groups lags of each group; whole numbers, as days are. "no-comparison" where no lag has two groups at risk.
 * Domain: two groups or more, else a RangeError. Sources: as `logRank`; Lagakos, Barraj & De Gruttola, Biometrika 75 (1988) 515-523.
 */
export function compareLags(groups: readonly (readonly TruncatedLag[])[]): LogRankResult {
  const beyond = groups.flat().reduce((most, { longest }) => Math.max(most, longest), 0) + 1;
  return logRank(
    groups.map((lags) => {
      const tally = new LifeTally();
      for (const { lag, longest, count = 1 } of lags) tally.add(beyond - longest - 1, beyond - lag, true, count);
      return tally.counts();
    }),
  );
}
