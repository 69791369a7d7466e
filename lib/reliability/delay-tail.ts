import { poissonLimits } from "@/lib/stats/poisson-limits";
import { countLags, reverseProductLimit, shareKnownAfter, type TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { lowerLimitWithoutFailures } from "@/lib/stats/survival-limits";
import { MOST_SLACK_DAYS } from "./life-cell";
import type { DelayDoubt, Reporting } from "./reporting";

/**
 * A delay is followed as far as so many failures are old enough. Of ten that are none is longer in 26 of 100
 * at most (exact binomial, 95 %). Engineering default, no authority.
 */
const FEWEST_OLD_ENOUGH = 10;
/**
 * Of the limits of a delay. They stand beside a test at 5 %, and on all days and both sides at once: that the delay errs so far and chance
 * as far as the test asks is rarer than either. Engineering default, no authority; what comes of it is measured in `unlike-delays.test.ts`.
 */
const CONFIDENCE = 0.8;

/** Days up to which a delay would have been seen of enough of these failures, and below `before`. */
export function followedDays(lags: readonly TruncatedLag[], before: number): number {
  let old = 0;
  for (const { longest, count = 1 } of lags.toSorted((a, b) => b.longest - a.longest)) {
    old += count;
    if (old >= FEWEST_OLD_ENOUGH) return Math.min(longest, before - 1);
  }
  return 0;
}

/** What is said of delays that none of these failures was old enough to show. */
interface Tail {
  readonly shareKnown: (lagDays: number) => number;
  readonly doubt: DelayDoubt;
}

/** Nothing: all may be known already, and none but what no delay waited for can hide. */
export const unknownTail: DelayDoubt = {
  mostKnown: () => 1,
  leastKnown: (lagDays) => (lagDays >= MOST_SLACK_DAYS ? 1 : 0),
};

/**
 * The delay of failures that can be followed for `followed` days only: their own up to there, beyond it that of all, to the power
 * by which the longest of theirs were slower than those of all, or faster. Proportional reverse hazards: Kalbfleisch & Lawless,
 * Statistica Sinica 1 (1991) 19-32 (from memory). Null where none of them is known by then.
 */
export function withTailOfAll(lags: readonly TruncatedLag[], followed: number, ofAll: Reporting): Reporting | null {
  const tail = tailOf(lags, followed, ofAll);
  const own = reverseProductLimit(lags.filter(({ lag }) => lag <= followed));
  if (own.steps.length === 0) return null;
  const { shareKnown } = tail;
  const scale = shareKnown(followed);
  return {
    returns: countLags(lags),
    longestLagDays: ofAll.longestLagDays,
    shareKnown: daily((day) => (day >= followed ? shareKnown(day) : scale * (shareKnownAfter(own, day)?.share ?? 1))),
    doubt: delayDoubt(lags, followed, tail.doubt),
  };
}

/**
 * Between which shares the true ones lie: limits of the reverse product limit up to `followed` days, that no longer delay was seen
 * of so many old enough among them, and beyond what is said of the tail.
 */
export function delayDoubt(lags: readonly TruncatedLag[], followed: number, tail: DelayDoubt): DelayDoubt {
  const own = reverseProductLimit(
    lags.filter(({ lag }) => lag <= followed),
    CONFIDENCE,
  );
  const oldEnough = lags.reduce((sum, { longest, count = 1 }) => sum + (longest > own.longestLag ? count : 0), 0);
  const noneLonger = own.longestLag < followed ? lowerLimitWithoutFailures(oldEnough, CONFIDENCE) : 1;
  // Before the shortest delay seen no more is known than on its day, nor more than none of so many can hide.
  const shortest = own.steps[0]?.lag ?? 0;
  const mostBefore = Math.min(own.steps[0]?.upper ?? 1, 1 - lowerLimitWithoutFailures(own.count, CONFIDENCE));
  const most = (day: number) => (day < shortest ? mostBefore : (shareKnownAfter(own, day)?.upper ?? 1));
  const least = (day: number) => shareKnownAfter(own, day)?.lower ?? 0;
  return {
    mostKnown: daily((day) => (day > followed ? tail.mostKnown(day) : most(day) * tail.mostKnown(followed))),
    leastKnown: daily((day) =>
      day > followed ? noneLonger * tail.leastKnown(day) : least(day) * noneLonger * tail.leastKnown(followed),
    ),
  };
}

function tailOf(lags: readonly TruncatedLag[], followed: number, ofAll: Reporting): Tail {
  const { times, lower, upper } = timesAsSlow(lags, followed, ofAll);
  const { mostKnown, leastKnown } = ofAll.doubt ?? unknownTail;
  const toPower = (share: (lagDays: number) => number, power: number) => (lagDays: number) => {
    const known = share(lagDays);
    return known >= 1 ? 1 : known ** power;
  };
  return {
    shareKnown: toPower(ofAll.shareKnown, times),
    doubt: { mostKnown: toPower(mostKnown, lower), leastKnown: toPower(leastKnown, upper) },
  };
}

/**
 * Delays in the longer half of the days followed over those that all would have had there, with exact limits of the count: above 1
 * where they are slower. The shorter half would say of one that is confirmed within days that it still has much to come.
 */
function timesAsSlow(lags: readonly TruncatedLag[], followed: number, { shareKnown }: Reporting) {
  const from = Math.floor(followed / 2) + 1;
  let [seen, expected] = [0, 0];
  for (const { lag, longest, count = 1 } of lags) {
    if (lag > followed) continue;
    if (lag >= from) seen += count;
    for (let day = Math.max(lag, from); day <= Math.min(longest, followed); day++) {
      const known = shareKnown(day);
      expected += count * (known > 0 ? 1 - shareKnown(day - 1) / known : 1);
    }
  }
  const limits = poissonLimits(seen, CONFIDENCE);
  // One more of both, so that few delays are taken for those of all.
  const times = (seen + 1) / (expected + 1);
  if (expected === 0) return { times, lower: 0, upper: Number.POSITIVE_INFINITY };
  return { times, lower: limits.lower / expected, upper: limits.upper / expected };
}

/** Worked out once for each day up to the longest delay that is waited for; 1 beyond. */
export function daily(shareAt: (day: number) => number): (lagDays: number) => number {
  const shares = Array.from({ length: MOST_SLACK_DAYS }, (_, day) => shareAt(day));
  return (lagDays) => shares[Math.max(0, Math.floor(lagDays))] ?? 1;
}
