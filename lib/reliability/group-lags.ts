import { compareLags } from "@/lib/stats/compare-lags";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import type { CompareBy } from "./compare-by";
import { CALLED_BELOW } from "./compare-strata";
import type { Reporting } from "./reporting";
import { type LagEstimate, type ReportingLag, reportingLag, reportingOf, settledAfterDays } from "./reporting-lag";

/** Attributes whose groups have delays of their own: who sold a pack, and where, is who sends it and how far it goes. */
export const delayedBy = ["dealer", "country"] as const satisfies readonly CompareBy[];
export type DelayedBy = (typeof delayedBy)[number];

export function hasOwnDelays(by: CompareBy): by is DelayedBy {
  return delayedBy.some((one) => one === by);
}

/**
 * A group's delay is followed as far as so many of its failures are old enough. Of ten that are none is longer in 26 of 100
 * at most (exact binomial, 95 %). Engineering default, no authority.
 */
const FEWEST_OLD_ENOUGH = 10;

/** The delay that one group is weighed by. */
export interface OwnDelay {
  readonly reporting: Reporting;
  /** Confirmed failures of the group it was taken from: those confirmed less than `leftOutFromDays` after they were told. */
  readonly returns: number;
  readonly leftOutFromDays: number;
  /** Days after which half, and 95 of 100, of what is waited for is known of it. */
  readonly medianDays: number;
  readonly mostDays: number;
  /** Of a young one the days up to which its own can be followed, that of all being taken beyond; null where it is its own throughout. */
  readonly followedDays: number | null;
}

/** How long it takes until failures are confirmed, by groups of one attribute. */
export interface GroupLags {
  readonly by: DelayedBy;
  /** That failures of all groups are confirmed equally fast; null where it cannot be tested. */
  readonly p: number | null;
  /** Deals p was drawn from, since some groups have too few for the log-rank test; null where it is of that. */
  readonly draws: number | null;
  /** Groups whose own delay is taken: those with an estimate, where the groups differ. */
  readonly own: ReadonlyMap<string, OwnDelay>;
  /** Groups with confirmed failures for which the delay of all is taken although the groups differ. */
  readonly withoutOwn: readonly string[];
  /** What a comparison of these groups allows for. */
  readonly reporting: Reporting;
}

/**
 * Answers: are some of these groups slower, so that their failures of late are known in smaller part than those of the others?
 *
 * Where the delays differ each group with an estimate of its own (20 confirmed failures) is given that, or a slow dealer would
 * look better than a fast one. Of a young one no long delay can have been seen yet, and its own distribution is one of the delays
 * it could show so far: where it cannot be followed as far as that of all, it takes beyond that what all show there,
 * the slower it was so far the more. Where they show no difference that of all is taken for all, being the surer.
 */
export function groupLags(
  by: DelayedBy,
  lagsByGroup: ReadonlyMap<string, readonly TruncatedLag[]>,
  ofAll: LagEstimate,
): GroupLags {
  const pooled = reportingOf(ofAll);
  const groups = [...lagsByGroup].filter(([, lags]) => lags.length > 0);
  const test = groups.length < 2 ? null : compareLags(groups.map(([, lags]) => lags));
  const { p, draws } = test === null || test.kind === "no-comparison" ? { p: null, draws: null } : test;
  const own = new Map<string, OwnDelay>();
  const withoutOwn: string[] = [];
  if (p !== null && p < CALLED_BELOW) {
    for (const [group, lags] of groups) {
      const delay = ownDelay(lags, pooled);
      if (delay === null) withoutOwn.push(group);
      else own.set(group, delay);
    }
  }
  const ofGroup = (group: string) => own.get(group)?.reporting ?? pooled;
  return { by, p, draws, own, withoutOwn, reporting: own.size === 0 ? pooled : { ...pooled, ofGroup } };
}

/** Days before the data date from which on laws, rates and months of sale of a group take nothing: a slow dealer is waited for longer than the others. */
export function waitedDaysFor(group: string, ofAll: LagEstimate, delays: GroupLags | null): number {
  return Math.max(delays?.own.get(group)?.reporting.longestLagDays ?? 0, settledAfterDays(ofAll));
}

function ownDelay(lags: readonly TruncatedLag[], pooled: Reporting): OwnDelay | null {
  const lag = reportingLag(lags);
  if (lag.kind === "no-lag") return null;
  const followed = followedDays(lags, lag);
  const reporting = withTailOfAll(lags, lag.reporting, followed, pooled);
  if (reporting === null) return null;
  return {
    reporting,
    returns: lag.returns,
    leftOutFromDays: lag.leftOutFromDays,
    medianDays: daysUntil(0.5, reporting),
    mostDays: daysUntil(0.95, reporting),
    followedDays: followed < pooled.longestLagDays ? followed : null,
  };
}

function daysUntil(share: number, { shareKnown, longestLagDays }: Reporting): number {
  let day = 0;
  while (day < longestLagDays && shareKnown(day) < share) day += 1;
  return day;
}

/** Days up to which a delay of this group would have been seen of enough of its failures. */
function followedDays(lags: readonly TruncatedLag[], { leftOutFromDays }: ReportingLag): number {
  let old = 0;
  for (const { longest, count = 1 } of lags.toSorted((a, b) => b.longest - a.longest)) {
    old += count;
    if (old >= FEWEST_OLD_ENOUGH) return Math.min(longest, leftOutFromDays - 1);
  }
  return 0;
}

/**
 * Its own delay up to `followed` days, of those that are known by then; null where it shows none by then. How many are known by
 * then, and what comes after, is that of all, to the power by which it was slower than all so far: 1 at least. Proportional
 * reverse hazards: Kalbfleisch & Lawless, Statistica Sinica 1 (1991) 19-32 (from memory).
 */
function withTailOfAll(
  lags: readonly TruncatedLag[],
  own: Reporting,
  followed: number,
  ofAll: Reporting,
): Reporting | null {
  if (followed >= ofAll.longestLagDays) return own;
  const byThen = own.shareKnown(followed);
  if (!(byThen > 0)) return null;
  const slower = Math.max(1, timesAsSlow(lags, followed, ofAll));
  const scale = ofAll.shareKnown(followed) ** slower / byThen;
  return {
    ...own,
    longestLagDays: ofAll.longestLagDays,
    shareKnown: (lagDays) =>
      lagDays >= followed ? ofAll.shareKnown(lagDays) ** slower : scale * own.shareKnown(lagDays),
  };
}

/** Lags up to `followed` days over those that all would have had, read from long to short: above 1 where they are longer. */
function timesAsSlow(lags: readonly TruncatedLag[], followed: number, { shareKnown }: Reporting): number {
  let [seen, expected] = [0, 0];
  for (const { lag, longest, count = 1 } of lags) {
    if (lag > followed) continue;
    seen += count;
    for (let day = lag; day <= Math.min(longest, followed); day++) {
      const known = shareKnown(day);
      const before = day === 0 ? 0 : shareKnown(day - 1);
      expected += count * (known > 0 ? 1 - before / known : 1);
    }
  }
  return expected > 0 ? seen / expected : 1;
}
