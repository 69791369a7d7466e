import { criticalRatio, sequentialRatio } from "@/lib/stats/maximised-sequential-ratio";
import type { CompareBy } from "./compare-by";
import { cellsByGroup, type LifeCell, type LifeTable, sumPacks } from "./life-cell";
import { visibleAtRisk } from "./visible-exposure";

/**
 * Chance that any of all groups watched ever gives a false alarm, were what is to be expected of them known. It is estimated
 * from their likes, so the chance is only about that. Engineering default, no authority.
 */
export const FALSE_ALARM_CHANCE = 0.05;
/** A baseline of fewer failures is no baseline. Engineering default, no authority. */
const FEWEST_BASELINE_FAILURES = 20;
/**
 * Failures of packs in use for longer are neither counted nor expected: the watch of a pack has an end, which the threshold
 * rests on; after it the comparison of all ages speaks. Engineering default, no authority.
 */
export const WATCH_DAYS = 365;
/** Where fewer of the likes are at risk (by weight) their hazard says nothing. */
const FEWEST_LIKES_AT_RISK = 1;
/** Fewer failures are never taken for the end of the watch: the threshold hardly changes below. */
const LEAST_EXPECTED = 0.1;
/** The exact threshold grows slowly with the expected number and is taken at this beyond it: there the chance stated is exceeded a little. */
export const MOST_EXPECTED = 200;
/** Fewer failures never raise an alarm, however few were expected. Kulldorff et al. (2011) call it M; common practice. */
const FEWEST_FAILURES = 2;

export interface Reporting {
  readonly shareKnown: (lagDays: number) => number;
  readonly longestLagDays: number;
}

export interface WatchState {
  readonly by: CompareBy;
  readonly group: string;
  readonly stratum: string;
  readonly packsInUse: number;
  /** Failures at ages up to the end of the watch at which likes were watched too. */
  readonly observed: number;
  /** Returns at ages up to the end of the watch that nobody has decided yet: they are in no count. */
  readonly undecided: number;
  /** Failures to be expected at these ages by today, were it like the others of its stratum, and had they been reported as fast. */
  readonly expected: number;
  /** How much better "it fails more" explains the count than "it fails alike", as a log likelihood ratio. */
  readonly evidence: number;
  /** Evidence at which the alarm is raised. */
  readonly threshold: number;
  /** With so many failures today it would be one. */
  readonly alarmAt: number;
  readonly alarm: boolean;
}

export interface EarlySignals {
  readonly states: readonly WatchState[];
  /** Groups watched, over which the chance of a false alarm is shared. */
  readonly watchedGroups: number;
  /** Groups whose likes have failed too seldom to say what is to be expected. */
  readonly unwatchable: number;
}

/**
 * Answers: which group has failed so much more often than its likes that it should be looked at now, before the curves
 * can show it?
 *
 * Expected failures by today = sum over ages of the others' hazard times the group's packs at risk, both counted with the
 * chance that a failure would be known by now. The evidence is compared with the exact threshold of the Poisson maximised
 * sequential probability ratio, so that one may look every day; the chance of a false alarm is shared equally by all
 * groups watched (Bonferroni). The others' hazard is taken as known, so a baseline of few failures is refused, and the chance
 * holds about only. An alarm is of one day: it is not kept, and the share of each group follows today's number of groups.
 * Source: Kulldorff et al., Sequential Analysis 30 (2011) 58-78.
 */
export function earlySignals(
  tables: readonly { readonly by: CompareBy; readonly table: LifeTable }[],
  reporting: Reporting,
): EarlySignals {
  const all = tables.flatMap(({ by, table }) => expectations(by, table, reporting));
  const watched = all.flatMap((one) => (one.kind === "watched" ? [one] : []));
  const states = watched
    .map(({ expectedAtEnd, ...state }) => ({
      ...state,
      ...judge(state.observed, state.expected, expectedAtEnd, watched.length),
    }))
    .sort((a, b) => b.evidence - b.threshold - (a.evidence - a.threshold));
  return { states, watchedGroups: watched.length, unwatchable: all.length - watched.length };
}

/** Whether so many failures, where so many were expected, are an alarm. */
export function judge(observed: number, expected: number, expectedAtEnd: number, watchedGroups: number) {
  const evidence = expected > 0 ? sequentialRatio(observed, expected) : 0;
  const threshold = thresholdFor(expectedAtEnd, FALSE_ALARM_CHANCE / watchedGroups);
  const alarmAt = failuresForAlarm(expected, threshold);
  return { evidence, threshold, alarmAt, alarm: observed >= FEWEST_FAILURES && evidence >= threshold };
}

/** The evidence rises with every failure above the expected number, so the first number that reaches the threshold is it. */
function failuresForAlarm(expected: number, threshold: number): number {
  let failures = Math.max(FEWEST_FAILURES, Math.ceil(expected));
  while (expected > 0 && sequentialRatio(failures, expected) < threshold) failures += 1;
  return failures;
}

const thresholds = new Map<string, number>();

/** Rounded up to the next tenth of a doubling, which errs on the side of silence and lets groups share the computation. */
function thresholdFor(expectedAtEnd: number, alpha: number): number {
  const rounded = Math.min(
    MOST_EXPECTED,
    2 ** (Math.ceil(10 * Math.log2(Math.max(LEAST_EXPECTED, expectedAtEnd))) / 10),
  );
  const key = `${rounded} ${alpha}`;
  const known = thresholds.get(key) ?? criticalRatio(Math.max(1e-6, alpha), rounded);
  thresholds.set(key, known);
  return known;
}

type Expectation =
  | (Pick<WatchState, "by" | "group" | "stratum" | "packsInUse" | "observed" | "undecided" | "expected"> & {
      readonly kind: "watched";
      readonly expectedAtEnd: number;
    })
  | { readonly kind: "no-baseline" };

function expectations(by: CompareBy, table: LifeTable, reporting: Reporting): Expectation[] {
  const strata = [...new Set(table.cells.map(({ stratum }) => stratum))];
  return strata.flatMap((stratum) => {
    const cells = table.cells.filter((cell) => cell.line === "confirmed" && cell.stratum === stratum);
    const failedAt = failuresByAge(cells);
    const ages = [...failedAt.keys()].filter((age) => age <= WATCH_DAYS).sort((a, b) => a - b);
    const atRiskOf = (some: readonly LifeCell[]) =>
      visibleAtRisk(some, ages, reporting.shareKnown, reporting.longestLagDays);
    const atRiskOfAll = atRiskOf(cells);
    return [...cellsByGroup(cells)].map(([group, own]): Expectation => {
      const ownFailedAt = failuresByAge(own);
      const atRisk = atRiskOf(own);
      const packsBuilt = sumPacks(own) + notYetInUse(table, group, stratum);
      // Observed and expected are of the same ages, or the count would drift away from what it is held against.
      let [observed, expected, baseline, hazardToEnd] = [0, 0, 0, 0];
      for (const [i, age] of ages.entries()) {
        const others = (atRiskOfAll[i] ?? 0) - (atRisk[i] ?? 0);
        if (!(others >= FEWEST_LIKES_AT_RISK)) continue;
        const ownFailed = ownFailedAt.get(age) ?? 0;
        const othersFailed = (failedAt.get(age) ?? 0) - ownFailed;
        observed += ownFailed;
        expected += ((atRisk[i] ?? 0) * othersFailed) / others;
        baseline += othersFailed;
        hazardToEnd += othersFailed / others;
      }
      if (baseline < FEWEST_BASELINE_FAILURES) return { kind: "no-baseline" };
      const expectedAtEnd = Math.max(expected, packsBuilt * hazardToEnd);
      const packsInUse = sumPacks(own);
      const undecided = sumPacks(
        own.filter(({ status, exitDays }) => status === "undecided" && exitDays <= WATCH_DAYS),
      );
      return { kind: "watched", by, group, stratum, packsInUse, observed, undecided, expected, expectedAtEnd };
    });
  });
}

function notYetInUse(table: LifeTable, group: string, stratum: string): number {
  return sumPacks(table.excluded.filter((cell) => cell.group === group && cell.stratum === stratum));
}

function failuresByAge(cells: readonly LifeCell[]): Map<number, number> {
  const byAge = new Map<number, number>();
  for (const { status, exitDays, packs } of cells) {
    if (status === "failed") byAge.set(exitDays, (byAge.get(exitDays) ?? 0) + packs);
  }
  return byAge;
}
