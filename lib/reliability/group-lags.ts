import { compareLags } from "@/lib/stats/compare-lags";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { type CompareBy, compareByWords } from "./compare-by";
import { CALLED_BELOW } from "./compare-strata";
import { grouped } from "./plain-share";
import type { Reporting } from "./reporting";
import { type LagEstimate, reportingLag, reportingOf } from "./reporting-lag";
import { sayP } from "./worse-sentences";

/** Attributes whose groups have delays of their own: who sold a pack, and where, is who sends it and how far it goes. */
export const delayedBy = ["dealer", "country"] as const satisfies readonly CompareBy[];
export type DelayedBy = (typeof delayedBy)[number];

export function hasOwnDelays(by: CompareBy): by is DelayedBy {
  return delayedBy.some((one) => one === by);
}

/** How long it takes until failures are confirmed, by groups of one attribute. */
export interface GroupLags {
  readonly by: DelayedBy;
  /** That failures of all groups are confirmed equally fast; null where it cannot be tested. */
  readonly p: number | null;
  /** Deals p was drawn from, since some groups have too few for the log-rank test; null where it is of that. */
  readonly draws: number | null;
  /** Groups whose own delay is taken: those with an estimate, where the groups differ. */
  readonly own: ReadonlyMap<string, Reporting>;
  /** Groups with confirmed failures for which the delay of all is taken although the groups differ. */
  readonly withoutOwn: readonly string[];
  /** What a comparison of these groups allows for. */
  readonly reporting: Reporting;
}

/**
 * Answers: are some of these groups slower, so that their failures of late are known in smaller part than those of the others?
 *
 * Where the delays differ each group with an estimate of its own (20 confirmed failures) is given that, or a slow dealer would
 * look better than a fast one. Where they show no difference that of all is taken for all, being the surer.
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
  const own = new Map<string, Reporting>();
  const withoutOwn: string[] = [];
  if (p !== null && p < CALLED_BELOW) {
    for (const [group, lags] of groups) {
      const lag = reportingLag(lags);
      if (lag.kind === "lag") own.set(group, lag.reporting);
      else withoutOwn.push(group);
    }
  }
  const reporting = own.size === 0 ? pooled : { ...pooled, ofGroup: (group: string) => own.get(group) ?? pooled };
  return { by, p, draws, own, withoutOwn, reporting };
}

/** What stands beside a comparison of dealers or countries. */
export function groupLagsSentence({ by, p, draws, own, withoutOwn }: GroupLags): string {
  const { one, many } = compareByWords[by];
  if (p === null)
    return `Whether failures of some ${many} are confirmed later than those of others cannot be told yet: one delay is taken for all, and a slow ${one} looks better than it is.`;
  const how =
    draws === null
      ? "log-rank test of the delays"
      : `the delays dealt out anew ${grouped(draws)} times, since of some too few are confirmed for the log-rank test`;
  const test = `(${how}: ${sayP(p)})`;
  if (p >= CALLED_BELOW)
    return `The ${many} give no sign that failures of some are confirmed later than those of others ${test}: one delay is taken for all.`;
  const taken =
    own.size === 0
      ? `no ${one} has enough confirmed failures for a delay of its own`
      : `each of ${grouped(own.size)} ${own.size === 1 ? one : many} is given its own`;
  const others =
    withoutOwn.length === 0
      ? ""
      : `; for ${withoutOwn.join(", ")}, of which too few failures are confirmed, that of all is taken, and a slow one among these looks better than it is`;
  return `Failures of some ${many} are confirmed later than those of others ${test}: ${taken}${others}.`;
}
