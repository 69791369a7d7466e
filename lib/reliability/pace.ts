import { compareLags } from "@/lib/stats/compare-lags";
import { countLags, type TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { CALLED_BELOW } from "./compare-strata";
import { daily, followedDays, withTailOfAll } from "./delay-tail";
import { MOST_SLACK_DAYS } from "./life-cell";
import type { Reporting } from "./reporting";
import { daysUntil, type LagEstimate, type PaceChange, type ReportingLag, reportingLag } from "./reporting-lag";

/** Days before the data date at which the times compared end. Only what was told since the last of them is corrected at all. */
const TIMES_DAYS = [30, 60, MOST_SLACK_DAYS] as const;

/**
 * The delay until failures are confirmed, as it is lately. The reverse product limit supposes that delays do not change: where failures
 * told in the last 30, 60 and 92 days and before are not confirmed alike (`compareLags`), the newest packs would look better or
 * worse than they are by a delay of all times. Then the delay of the longest of these times that shows no change in itself is taken.
 * What was told in it cannot show the longest delays yet, so these are taken from all, as of a young dealer.
 */
export function latelyLag(lags: readonly TruncatedLag[]): LagEstimate {
  const ofAllTimes = reportingLag(lags);
  if (ofAllTimes.kind === "no-lag") return ofAllTimes;
  const ofAll = { ...ofAllTimes, reporting: doubtedLately(lags, ofAllTimes.reporting, ofAllTimes.reporting) };
  const p = pOfChange(lags, Number.POSITIVE_INFINITY);
  if (p === null || p >= CALLED_BELOW) return ofAll;
  for (const days of [...TIMES_DAYS].reverse()) {
    const changes = pOfChange(lags, days);
    if (changes !== null && changes < CALLED_BELOW) continue;
    const lately = lags.filter(({ longest }) => longest <= days);
    const estimate = latelyEstimate(lately, ofAll.reporting);
    if (estimate === null) continue;
    const reporting = doubtedLately(lately, estimate.reporting, ofAll.reporting);
    return { ...ofAll, ...estimate, reporting, pace: changeOf(p, days, lately, ofAll) };
  }
  // It changes, and of no time are there enough: how far the delay of all is wrong nobody can tell.
  const { doubt: _, ...reporting } = ofAll.reporting;
  return { ...ofAll, reporting, pace: { ...changeOf(p, 0, [], ofAll) } };
}

/**
 * The same delay, doubted as far as what was told in each of the last times by itself allows: a change of pace that no test shows yet. Of
 * what was told longer ago than a time began that time says nothing.
 *
 * @param ofAll what is said of delays that a time is too short to show.
 */
export function doubtedLately(lags: readonly TruncatedLag[], own: Reporting, ofAll: Reporting): Reporting {
  if (own.doubt === undefined) return own;
  const doubts = [{ days: MOST_SLACK_DAYS + 1, doubt: own.doubt }];
  for (const days of TIMES_DAYS) {
    const lately = lags.filter(({ longest }) => longest <= days);
    const doubt = latelyEstimate(lately, ofAll)?.reporting.doubt;
    if (doubt !== undefined) doubts.push({ days, doubt });
  }
  const saying = (lagDays: number) => doubts.filter(({ days }) => lagDays <= days);
  const most = daily((day) => Math.max(...saying(day).map(({ doubt }) => doubt.mostKnown(day))));
  const least = daily((day) => Math.min(...saying(day).map(({ doubt }) => doubt.leastKnown(day))));
  return { ...own, doubt: { mostKnown: most, leastKnown: least } };
}

function latelyEstimate(lately: readonly TruncatedLag[], ofAll: Reporting) {
  const lag = reportingLag(lately);
  if (lag.kind === "no-lag") return null;
  const followed = followedDays(lately, lag.leftOutFromDays);
  const reporting: Reporting | null = withTailOfAll(lately, followed, ofAll);
  if (reporting === null) return null;
  return { reporting, medianDays: daysUntil(0.5, reporting), mostDays: daysUntil(0.95, reporting) };
}

function changeOf(p: number, days: number, lately: readonly TruncatedLag[], { medianDays }: ReportingLag): PaceChange {
  const latelyReturns = countLags(lately);
  return { p, latelyDays: days, latelyReturns, medianOfAllTimesDays: medianDays };
}

/** Whether failures told within so many days differ by when they were told; null where there is nothing to compare. */
function pOfChange(lags: readonly TruncatedLag[], withinDays: number): number | null {
  const ends = [...TIMES_DAYS.filter((days) => days < withinDays), withinDays];
  const times = ends
    .map((end, i) => lags.filter(({ longest }) => longest <= end && longest > (ends[i - 1] ?? -1)))
    .filter((some) => some.length > 0);
  if (times.length < 2) return null;
  const test = compareLags(times);
  return test.kind === "test" ? test.p : null;
}
