import { compareLags } from "@/lib/stats/compare-lags";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import type { CompareBy } from "./compare-by";
import { CALLED_BELOW } from "./compare-strata";
import { followedDays, withTailOfAll } from "./delay-tail";
import { doubtedLately } from "./pace";
import type { Reporting } from "./reporting";
import { daysUntil, type LagEstimate, reportingLag, reportingOf, settledAfterDays } from "./reporting-lag";

/** Attributes whose groups have delays of their own: who sold a pack, and where, is who sends it and how far it goes. */
const delayedBy = ["dealer", "country"] as const satisfies readonly CompareBy[];
export type DelayedBy = (typeof delayedBy)[number];

export function hasOwnDelays(by: CompareBy): by is DelayedBy {
  return delayedBy.some((one) => one === by);
}

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
  // By name, so that what is drawn for them does not hang on the order they were read in.
  const groups = [...lagsByGroup].filter(([, lags]) => lags.length > 0).sort(([a], [b]) => (a < b ? -1 : 1));
  const test = groups.length < 2 ? null : compareLags(groups.map(([, lags]) => lags));
  const { p, draws } = test === null || test.kind === "no-comparison" ? { p: null, draws: null } : test;
  const differ = p !== null && p < CALLED_BELOW;
  const own = new Map<string, OwnDelay>();
  const withoutOwn: string[] = [];
  const reportings = new Map<string, Reporting>();
  for (const [group, lags] of groups) {
    const delay = ownDelay(lags, pooled);
    if (differ && delay === null) withoutOwn.push(group);
    if (differ && delay !== null) own.set(group, delay);
    // Where no difference shows the delay of all is the surer estimate, but how far it may be wrong of one group that one's own delays say.
    const doubt = delay?.reporting.doubt;
    const pooledHere = doubt === undefined ? withoutDoubtTold(pooled) : { ...pooled, doubt };
    reportings.set(group, differ && delay !== null ? delay.reporting : pooledHere);
  }
  const ofOthers = withoutDoubtTold(pooled);
  const ofPlace = (group: string) => reportings.get(group) ?? ofOthers;
  const isKnownAtOnce = ofAll.kind === "no-lag" && own.size === 0;
  return { by, p, draws, own, withoutOwn, reporting: isKnownAtOnce ? pooled : { ...pooled, ofPlace } };
}

/** Days before the data date from which on laws, rates and months of sale of a group take nothing: a slow dealer is waited for longer than the others. */
export function waitedDaysFor(group: string, ofAll: LagEstimate, delays: GroupLags | null): number {
  return Math.max(delays?.own.get(group)?.reporting.longestLagDays ?? 0, settledAfterDays(ofAll));
}

/** The delay of a group by itself; null where it has too few delays for one. */
function ownDelay(lags: readonly TruncatedLag[], pooled: Reporting): OwnDelay | null {
  const lag = reportingLag(lags);
  if (lag.kind === "no-lag") return null;
  const followed = followedDays(lags, lag.leftOutFromDays);
  const ofAllTimes = followed >= pooled.longestLagDays ? lag.reporting : withTailOfAll(lags, followed, pooled);
  if (ofAllTimes === null) return null;
  const reporting = doubtedLately(lags, ofAllTimes, pooled);
  return {
    reporting,
    returns: lag.returns,
    leftOutFromDays: lag.leftOutFromDays,
    medianDays: daysUntil(0.5, reporting),
    mostDays: daysUntil(0.95, reporting),
    followedDays: followed < pooled.longestLagDays ? followed : null,
  };
}

/** The delay of all for packs of which nothing is known of how far it may be wrong of them. */
export function withoutDoubtTold({ doubt: _, ofPlace: __, ...pooled }: Reporting): Reporting {
  return pooled;
}
