import {
  type LagDistribution,
  lagQuantile,
  reverseProductLimit,
  shareKnownAfter,
  type TruncatedLag,
} from "@/lib/stats/reverse-product-limit";
import type { Reporting } from "./early-signals";
import { MOST_SLACK_DAYS } from "./life-cell";

/** With fewer lags no distribution is worth using. Engineering default, no authority. */
const FEWEST_LAGS = 20;

export interface ReportingLag {
  readonly distribution: LagDistribution;
  readonly returns: number;
  /** Returns with a longer lag than is waited for: they are not in the distribution. */
  readonly tooLate: number;
  /** Days after which half, and 95 of 100, of what comes within `MOST_SLACK_DAYS` is known. */
  readonly medianDays: number;
  readonly mostDays: number;
  readonly reporting: Reporting;
}

/**
 * How long it takes from the day a customer tells the dealer until the return is lodged, or confirmed as a failure: by the
 * reverse product limit, because of what was told lately only the quick part is known. Null for fewer than 20 returns: then
 * nothing is corrected, and the page says so. Lags longer than a quarter of a year are not waited for, but told of.
 */
export function reportingLag(lags: readonly TruncatedLag[]): ReportingLag | null {
  const short = lags.filter(({ lag }) => lag <= MOST_SLACK_DAYS);
  const returns = countLags(short);
  if (returns < FEWEST_LAGS) return null;
  const distribution = reverseProductLimit(short);
  const medianDays = lagQuantile(distribution, 0.5);
  const mostDays = lagQuantile(distribution, 0.95);
  if (medianDays === null || mostDays === null || distribution.exhaustedAtLag !== null) return null;
  const shares = Array.from(
    { length: distribution.longestLag + 1 },
    (_, lag) => shareKnownAfter(distribution, lag)?.share ?? 1,
  );
  return {
    distribution,
    returns,
    tooLate: countLags(lags) - returns,
    medianDays,
    mostDays,
    reporting: {
      shareKnown: (lagDays) => shares[Math.max(0, Math.floor(lagDays))] ?? 1,
      longestLagDays: distribution.longestLag,
    },
  };
}

/** Where the lag cannot be estimated everything counts as known at once. */
export const knownAtOnce: Reporting = { shareKnown: () => 1, longestLagDays: 0 };

/** Days by which a return is late on average: what is not known yet, summed over the days since. */
export function meanLagDays({ shareKnown, longestLagDays }: Reporting): number {
  let days = 0;
  for (let lag = 0; lag < longestLagDays; lag++) days += 1 - shareKnown(lag);
  return days;
}

export function lagSentence(lag: ReportingLag | null): string {
  if (lag === null) return "How late returns reach us cannot be estimated yet, so nothing is corrected for it.";
  const { medianDays, mostDays, returns } = lag;
  return `Half of what customers tell a dealer reaches us within ${days(medianDays)}, 95 of 100 within ${days(mostDays)} (from ${returns} returns, those still on their way allowed for${tooLateClause(lag)}). What has not reached us is allowed for by that.`;
}

/** The same of failures confirmed: what comparisons, shares and signals count. */
export function confirmationSentence(lag: ReportingLag | null): string {
  if (lag === null)
    return `How long it takes until a failure is confirmed cannot be estimated from fewer than ${FEWEST_LAGS} of them, so nothing is corrected for it: young packs look better than they are.`;
  const { medianDays, mostDays, returns } = lag;
  return `Half of the failures told to a dealer are confirmed at the bench within ${days(medianDays)}, 95 of 100 within ${days(mostDays)} (from ${returns} confirmed failures, those on their way or undecided allowed for${tooLateClause(lag)}). The latest ages are corrected for it; were decisions slower lately than before, the newest packs still look better than they are.`;
}

function tooLateClause({ tooLate }: ReportingLag): string {
  return tooLate === 0 ? "" : `; ${tooLate} that took more than ${days(MOST_SLACK_DAYS)} are left out`;
}

function countLags(lags: readonly TruncatedLag[]): number {
  return lags.reduce((sum, { count = 1 }) => sum + count, 0);
}

function days(count: number): string {
  return count === 1 ? "1 day" : `${count} days`;
}
