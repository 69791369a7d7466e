import {
  countLags,
  type LagDistribution,
  lagQuantile,
  reverseProductLimit,
  shareKnownAfter,
  type TruncatedLag,
} from "@/lib/stats/reverse-product-limit";
import { daily, delayDoubt, followedDays, unknownTail } from "./delay-tail";
import { MOST_SLACK_DAYS } from "./life-cell";
import { sayP } from "./plain-share";
import type { Reporting } from "./reporting";

/** With fewer lags no distribution is worth using. Engineering default, no authority. */
const FEWEST_LAGS = 20;

export interface ReportingLag {
  readonly kind: "lag";
  readonly distribution: LagDistribution;
  readonly returns: number;
  /** Returns with a longer lag than is waited for: they are not in the distribution. */
  readonly tooLate: number;
  /** The shortest lag that is left out; `MOST_SLACK_DAYS` + 1, or less where too few returns are old enough for it. */
  readonly leftOutFromDays: number;
  /** Days after which half, and 95 of 100, of what is waited for is known. */
  readonly medianDays: number;
  readonly mostDays: number;
  readonly reporting: Reporting;
  /** Where what was told lately is confirmed at another pace than before; missing where that was not asked, or shows nothing. */
  readonly pace?: PaceChange;
}

/** That failures told lately are confirmed faster or slower than those told before. */
export interface PaceChange {
  readonly p: number;
  /** The delay that is taken now is that of failures told so many days ago or less. */
  readonly latelyDays: number;
  /** How many of these are confirmed. */
  readonly latelyReturns: number;
  /** Days after which half of all failures were known, those told before included. */
  readonly medianOfAllTimesDays: number;
}

/** `few-returns`: fewer than are worth using. `none-old-enough`: too few are so old that a long lag could have been seen of them. */
export interface NoLag {
  readonly kind: "no-lag";
  readonly reason: "few-returns" | "none-old-enough";
  readonly returns: number;
}

export type LagEstimate = ReportingLag | NoLag;

/**
 * How long it takes from the day a customer tells the dealer until the return is lodged, or confirmed as a failure: by the
 * reverse product limit, because of what was told lately only the quick part is known. With fewer than 20 returns nothing is
 * corrected, and the page says so. Lags longer than a quarter of a year are not waited for, but told of; nor are those from
 * which on hardly any return is old enough: where all that are old enough had just this lag, the share of the shorter ones
 * would come out as 0, so the distribution is cut just below.
 */
export function reportingLag(lags: readonly TruncatedLag[]): LagEstimate {
  let leftOutFromDays = MOST_SLACK_DAYS + 1;
  for (;;) {
    const waitedFor = lags.filter(({ lag }) => lag < leftOutFromDays);
    const returns = countLags(waitedFor);
    if (returns < FEWEST_LAGS) {
      const all = countLags(lags);
      return { kind: "no-lag", reason: all < FEWEST_LAGS ? "few-returns" : "none-old-enough", returns: all };
    }
    const distribution = reverseProductLimit(waitedFor);
    const medianDays = lagQuantile(distribution, 0.5);
    const mostDays = lagQuantile(distribution, 0.95);
    if (distribution.exhaustedAtLag === null && medianDays !== null && mostDays !== null) {
      const tooLate = countLags(lags) - returns;
      const followed = followedDays(lags, leftOutFromDays);
      const reporting = { ...reportingBy(distribution), doubt: delayDoubt(waitedFor, followed, unknownTail) };
      return { kind: "lag", distribution, returns, tooLate, leftOutFromDays, medianDays, mostDays, reporting };
    }
    leftOutFromDays = distribution.exhaustedAtLag ?? 0;
  }
}

function reportingBy(distribution: LagDistribution): Reporting {
  return {
    shareKnown: daily((day) => shareKnownAfter(distribution, day)?.share ?? 1),
    longestLagDays: distribution.longestLag,
    returns: distribution.count,
  };
}

/** Days until at least the share is known. */
export function daysUntil(share: number, { shareKnown, longestLagDays }: Reporting): number {
  let day = 0;
  while (day < longestLagDays && shareKnown(day) < share) day += 1;
  return day;
}

/** What comparisons and curves allow for. */
export function reportingOf(lag: LagEstimate): Reporting {
  return lag.kind === "lag" ? lag.reporting : knownAtOnce;
}

/**
 * Days before the data date from which on laws and rates take nothing: the longest lag that is waited for, or, where none can
 * be estimated, the longest that ever is. What was told later is known in part only, and would read as failing less of late.
 */
export function settledAfterDays(lag: LagEstimate): number {
  return lag.kind === "lag" ? lag.reporting.longestLagDays : MOST_SLACK_DAYS;
}

/** Where the lag cannot be estimated everything counts as known at once. */
export const knownAtOnce: Reporting = { shareKnown: () => 1, longestLagDays: 0 };

/** Days by which a return is late on average: what is not known yet, summed over the days since. */
export function meanLagDays({ shareKnown, longestLagDays }: Reporting): number {
  let days = 0;
  for (let lag = 0; lag < longestLagDays; lag++) days += 1 - shareKnown(lag);
  return days;
}

export function lagSentence(lag: LagEstimate): string {
  if (lag.kind === "no-lag")
    return `How late returns reach us cannot be estimated yet${becauseClause(lag, "returns")}, so nothing is corrected for it.`;
  const { medianDays, mostDays, returns } = lag;
  return `Half of what customers tell a dealer reaches us within ${days(medianDays)}, 95 of 100 within ${days(mostDays)} (from ${returns} returns, those still on their way allowed for${tooLateClause(lag)}). What has not reached us is allowed for by that.`;
}

/** The same of failures confirmed: what comparisons, shares and signals count. */
export function confirmationSentence(lag: LagEstimate): string {
  if (lag.kind === "no-lag")
    return `How long it takes until a failure is confirmed cannot be estimated yet${becauseClause(lag, "confirmed failures")}, so no share is corrected for it: young packs look better than they are, and those confirmed faster than others look worse beside them. Laws and rates leave out what was told in the last ${days(MOST_SLACK_DAYS)}.`;
  const { medianDays, mostDays, returns } = lag;
  return `Half of the failures told to a dealer are confirmed at the bench within ${days(medianDays)}, 95 of 100 within ${days(mostDays)} (from ${returns} confirmed failures, those on their way or undecided allowed for${tooLateClause(lag)}). The latest ages are corrected for it. ${paceSentence(lag)}`;
}

/** Whether failures told lately are confirmed at another pace than before, and what cannot be known of that, in both directions. */
function paceSentence({ pace }: ReportingLag): string {
  if (pace === undefined)
    return `Those told lately show no other pace than those told before. ${otherPaceSentence("the newest packs")}`;
  const { p, latelyDays, latelyReturns, medianOfAllTimesDays } = pace;
  const test = `(those told in the last 30, 60 and ${MOST_SLACK_DAYS} days and before compared: ${sayP(p)})`;
  if (latelyDays === 0)
    return `The pace changes ${test}, and too few were told lately to tell the pace of now: the newest packs look worse than they are if it is faster now, better if it is slower.`;
  return `That is the delay of the ${latelyReturns} told in the last ${days(latelyDays)}: they are confirmed at another pace than those before ${test}; over all times half are confirmed within ${days(medianOfAllTimesDays)}.`;
}

/** What the correction cannot know, in both directions. */
export function otherPaceSentence(packs: string): string {
  return `Were decisions slower lately than before, ${packs} still look better than they are; were they faster, they look worse.`;
}

/** What a call of more or less often is held to, beside the comparison. */
export const heldSentence = `A group is said to fail more or less often only where that holds for every delay that the failures confirmed so far leave open, up to ${MOST_SLACK_DAYS} days; else it cannot be told yet.`;

/** From when on a difference that the delay alone could make can be told. */
export const settledSoonSentence = `For what was told up to today that is settled in ${MOST_SLACK_DAYS} days at the latest, and sooner the sooner its returns are decided.`;

function becauseClause({ reason, returns }: NoLag, what: string): string {
  switch (reason) {
    case "few-returns":
      return ` from fewer than ${FEWEST_LAGS} ${what}`;
    case "none-old-enough":
      return `: of ${returns} ${what} hardly any was told so long ago that a long delay could have been seen of it`;
    default: {
      const never: never = reason;
      return never;
    }
  }
}

function tooLateClause({ tooLate, leftOutFromDays }: ReportingLag): string {
  if (leftOutFromDays <= MOST_SLACK_DAYS)
    return `; ${tooLate} that took ${days(leftOutFromDays)} or more are left out, since hardly any other is old enough to tell how many take so long`;
  return tooLate === 0 ? "" : `; ${tooLate} that took more than ${days(MOST_SLACK_DAYS)} are left out`;
}

function days(count: number): string {
  return count === 1 ? "1 day" : `${count} days`;
}
