import { sayFault } from "@/lib/diagnosis/fault-words";
import { clopperPearsonLimits } from "@/lib/stats/binomial-limits";
import { type RateRatio, rateRatio } from "@/lib/stats/rate-ratio";
import { compareByWords } from "./compare-by";
import { WATCH_DAYS, type WatchState } from "./early-signals";
import { grouped } from "./plain-share";
import { SIGNAL_RULES_VERSION } from "./rule-version";
import { measuredFleet, measuredSignals } from "./signal-measurements";
import { ratioBetween, sayRatio } from "./worse-sentences";

export function faultWords(fault: string | null): string {
  return fault === null ? "all together" : sayFault(fault);
}

/**
 * How many times as often a watched group fails as its likes, with exact limits that allow for the failures of both: given
 * all of them, its own are binomial. The failures of its likes count as so many as the expected number is worth (`baseline`),
 * in whole ones. For this day alone: the level of a signal allows for looking every day, these limits do not.
 */
export function timesOfLikes({
  observed,
  expected,
  baseline,
}: Pick<WatchState, "observed" | "expected" | "baseline">): RateRatio | null {
  if (!(expected > 0)) return null;
  const count = Number.isFinite(baseline) ? Math.max(1, Math.round(baseline)) : null;
  return count === null ? null : rateRatio({ count: observed, exposure: expected }, { count, exposure: count });
}

/** "1.8 (1.1 to 2.9)" for a table. */
export function timesWords(state: Pick<WatchState, "observed" | "expected" | "baseline">): string {
  const times = timesOfLikes(state);
  return times?.ratio == null ? "cannot tell yet" : `${sayRatio(times.ratio)} (${ratioBetween(times)})`;
}

/** The answer of the page where nothing signals. */
export function noSignalSentence(watchedGroups: number): string {
  return watchedGroups === 0
    ? "No group can be watched yet: the others of its model have failed too seldom to say what is to be expected of it."
    : `No signal: none of the ${grouped(watchedGroups)} groups watched has failed so much more often than its likes.`;
}

/** Why a group should be looked at now. */
export function whySentence(state: WatchState): string {
  const { by, group, fault, observed, undecided, expected, likesFailed, holds } = state;
  const open = undecided === 0 ? "" : ` ${grouped(observed + undecided)}, were all its undecided returns failures.`;
  const times = timesOfLikes(state);
  const ratio =
    times?.ratio == null
      ? ""
      : `, ${sayRatio(times.ratio)} times as often as its likes (exact 95 % limits for this day alone ${ratioBetween(times)})`;
  return `${compareByWords[by].name} ${group}${fault === null ? "" : `, ${faultWords(fault)}`}: ${grouped(observed)} confirmed failures in the first ${WATCH_DAYS} days in use, where ${expected.toFixed(1)} were to be expected by now from the ${grouped(likesFailed)} of its likes${ratio}.${open}${holds === false ? doubt : ""}`;
}

/** Beside a signal that a delay of its own could have made. */
const doubt =
  " Whether it fails more cannot be told yet: were its failures confirmed faster than those of its likes, that alone could make the difference. Look at the packs all the same.";

/** What was measured of false signals and of finding a doubled rate, with the exact limits that so many fleets allow. */
export function measuredSentence(rulesNow: string = SIGNAL_RULES_VERSION): string {
  const { fleets, falseSignals, found } = measuredSignals;
  const percent = (share: number) => (share * 100).toFixed(1);
  const share = (count: number) => {
    const { lower, upper } = clopperPearsonLimits(count, fleets);
    return `${percent(count / fleets)} in 100, 95 % limits ${percent(lower)} to ${percent(upper)}`;
  };
  const gaveFalse = falseSignals.map(
    ({ sharedOver, fleets: some }) =>
      `${some} ever gave a false signal with the chance shared over ${sharedOver} (${share(some)})`,
  );
  const bad = found.map(({ sharedOver, within, ever }) => {
    const soon = within.map(({ months, fleets: some }) => `${some} within ${months} months (${share(some)})`);
    return `shared over ${sharedOver}: ${soon.join(", ")}, and ${ever} ever (${share(ever)})`;
  });
  const { groups, packsOfGroup, failedByAYear, timesAsOften, daysBetweenLooks } = measuredFleet;
  return (
    `Measured under rules ${measuredSignals.rules}${rulesNow === measuredSignals.rules ? "" : `, while they are ${rulesNow} now`}, in ${fleets} made-up fleets of ${groups} groups alike, looked at every ${daysBetweenLooks} days: ` +
    `${gaveFalse.join(", ")}. Of ${fleets} fleets in which one group of ${packsOfGroup} packs failed ` +
    `${timesAsOften} times as often, ${Math.round(packsOfGroup * failedByAYear)} failures being expected of it in a year, that group signalled, counted from its first sale, with the chance ` +
    `${bad.join("; ")}.`
  );
}
