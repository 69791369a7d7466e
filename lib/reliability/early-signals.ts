import { conditionalRatio, criticalRatio } from "@/lib/stats/maximised-sequential-ratio";
import type { CompareBy } from "./compare-by";
import { type LifeCell, type LifeTable, sumPacks } from "./life-cell";
import { belongsTo, cellsOfGroups } from "./mixed-lots";
import type { Reporting } from "./reporting";
import { visibleAtRisk } from "./visible-exposure";
import { asLittleKnown, asMuchKnown, sureOf } from "./whatever-delay";

/**
 * Chance that any of all groups watched ever gives a false alarm: what the thresholds are set for. How often it happens is measured
 * (`signal-measurements.ts`). Engineering default, no authority.
 */
export const FALSE_ALARM_CHANCE = 0.05;
/**
 * The chance is shared over so many groups, and over the next power of two where more are watched: a share fixed in advance, so that
 * the level of a group does not move with every new lot. Engineering default, no authority.
 */
const FEWEST_GROUPS_SHARED_OVER = 256;
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

export interface WatchState {
  readonly by: CompareBy;
  readonly group: string;
  readonly stratum: string;
  /** The fault watched by itself; null for all faults together. */
  readonly fault: string | null;
  readonly packsInUse: number;
  /** Ages at which failures are counted, in days: of the watch, as far as its likes have been watched at them. */
  readonly countedFromDays: number;
  readonly countedUpToDays: number;
  /** Failures of its likes that the expected number rests on, those at ages that weigh much counting more. */
  readonly baseline: number;
  /** Failures of its likes at ages that any of its packs has reached, each counted once. */
  readonly likesFailed: number;
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
  /** Of an alarm whether it is one whatever the delays are; where not, it is looked at, but whether the group fails more cannot be told yet. */
  readonly holds: boolean | null;
}

export interface EarlySignals {
  readonly states: readonly WatchState[];
  /** Groups watched, a revision once more for each fault of which there are enough. */
  readonly watchedGroups: number;
  /** Over so many the chance of a false alarm is shared. */
  readonly sharedOver: number;
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
 * groups watched (Bonferroni), revisions being watched for each fault by itself as well. What is to be expected is estimated from
 * the likes, which the evidence allows for by conditioning on the failures of both; a baseline of few failures is refused.
 * Of an alarm is asked whether it would be one whatever the delays are, so far as they are in doubt, as in comparisons (`pWhateverDelay`).
 * Source: Kulldorff et al., Sequential Analysis 30 (2011) 58-78.
 */
export function earlySignals(
  tables: readonly {
    readonly by: CompareBy;
    readonly table: LifeTable;
    readonly reporting?: Reporting | undefined;
  }[],
  reporting: Reporting,
  shareOver: (watchedGroups: number) => number = groupsSharedOver,
): EarlySignals {
  const all = tables.flatMap(({ by, table, reporting: own }) => expectations(by, table, own ?? reporting));
  const watched = all.flatMap((one) => (one.kind === "watched" ? [one] : []));
  const sharedOver = shareOver(watched.length);
  const states = watched
    .map(({ kind: _, expectedAtEnd, atWorst, ...state }): WatchState => {
      const told = judge(state.observed, state.expected, expectedAtEnd, sharedOver, state.baseline);
      return { ...state, ...told, holds: told.alarm ? isAlarmAtWorst(atWorst(), sharedOver) : null };
    })
    .sort((a, b) => b.evidence - b.threshold - (a.evidence - a.threshold));
  return { states, watchedGroups: watched.length, sharedOver, unwatchable: all.length - watched.length };
}

export function groupsSharedOver(watchedGroups: number): number {
  return Math.max(FEWEST_GROUPS_SHARED_OVER, 2 ** Math.ceil(Math.log2(Math.max(1, watchedGroups))));
}

/** A baseline of few failures is not refused here: the evidence allows for it by conditioning. */
function isAlarmAtWorst({ observed, expected, expectedAtEnd, baseline }: Held, sharedOver: number): boolean {
  return judge(observed, expected, expectedAtEnd, sharedOver, baseline).alarm;
}

/** Whether so many failures, where so many were expected by a baseline of so many, are an alarm. */
export function judge(
  observed: number,
  expected: number,
  expectedAtEnd: number,
  sharedOver: number,
  baseline = Number.POSITIVE_INFINITY,
) {
  const evidence = expected > 0 ? conditionalRatio(observed, expected, baseline) : 0;
  const threshold = thresholdFor(expectedAtEnd, FALSE_ALARM_CHANCE / sharedOver);
  const alarmAt = failuresForAlarm(expected, threshold, baseline);
  return { evidence, threshold, alarmAt, alarm: observed >= FEWEST_FAILURES && evidence >= threshold };
}

/** The evidence rises with every failure above the expected number, so the first number that reaches the threshold is it. */
function failuresForAlarm(expected: number, threshold: number, baseline: number): number {
  let failures = Math.max(FEWEST_FAILURES, Math.ceil(expected));
  while (expected > 0 && conditionalRatio(failures, expected, baseline) < threshold) failures += 1;
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
  | (Omit<WatchState, "evidence" | "threshold" | "alarmAt" | "alarm" | "holds"> & {
      readonly kind: "watched";
      readonly expectedAtEnd: number;
      /** The same in the case that speaks most against an alarm; worked out only where there is one. */
      readonly atWorst: () => Held;
    })
  | { readonly kind: "no-baseline" };

function expectations(by: CompareBy, table: LifeTable, reporting: Reporting): Expectation[] {
  const strata = [...new Set(table.cells.map(({ stratum }) => stratum))];
  return strata.flatMap((stratum) => {
    const cells = table.cells.filter((cell) => cell.line === "confirmed" && cell.stratum === stratum);
    const failures = failuresByFaultAndAge(cells);
    const ages = [...(failures.get(ALL_FAULTS) ?? new Map<number, number>()).keys()]
      .filter((age) => age <= WATCH_DAYS)
      .sort((a, b) => a - b);
    const atRiskOf = (some: readonly LifeCell[]) => visibleAtRisk(some, ages, reporting);
    const atRiskOfAll = atRiskOf(cells);
    // Of a lot or a dealer every fault by itself would be far too many watches: the share of each would see nothing.
    const faults = by === "revision" ? [...failures.keys()] : [ALL_FAULTS];
    return [...cellsOfGroups(table, cells)].flatMap(([group, own]) => {
      const packsInUse = sumPacks(own);
      const packsBuilt = packsInUse + notYetInUse(table, group, stratum);
      const ownFailures = failuresByFaultAndAge(own);
      const atRisk = atRiskOf(own);
      const undecided = sumPacks(
        own.filter(({ status, exitDays }) => status === "undecided" && exitDays <= WATCH_DAYS),
      );
      return faults.flatMap((fault): Expectation[] => {
        const ownFailed = ownFailures.get(fault);
        const likes = likesOf({ atRisk: atRiskOfAll, failed: failures.get(fault) }, { atRisk, failed: ownFailed });
        const held = holdAgainst(ages, { atRisk, failed: ownFailed }, likes, packsBuilt);
        if (held.likesFailed < FEWEST_BASELINE_FAILURES) return fault === ALL_FAULTS ? [{ kind: "no-baseline" }] : [];
        const atWorst = () => {
          const allKnown = { atRisk: visibleAtRisk(own, ages, asMuchKnown(reporting)), failed: ownFailed };
          const settledLikes = likesOf(sureSide(cells, ages, fault, reporting), sureSide(own, ages, fault, reporting));
          return holdAgainst(ages, allKnown, settledLikes, packsBuilt);
        };
        const { observed, expected, baseline, expectedAtEnd, likesCounted, countedFromDays, countedUpToDays } = held;
        const about = { by, group, stratum, fault: fault === ALL_FAULTS ? null : fault, packsInUse, undecided };
        const counted = { observed, expected, baseline, likesFailed: likesCounted };
        return [{ kind: "watched", ...about, ...counted, countedFromDays, countedUpToDays, expectedAtEnd, atWorst }];
      });
    });
  });
}

/** One side of a watch: packs at risk at each age, and failures by age. */
interface Side {
  readonly atRisk: Float64Array;
  readonly failed: ReadonlyMap<number, number> | undefined;
}

type Held = ReturnType<typeof holdAgainst>;

function likesOf(all: Side, own: Side): Required<Side> {
  const failed = new Map([...(all.failed ?? [])].map(([age, packs]) => [age, packs - (own.failed?.get(age) ?? 0)]));
  return { atRisk: all.atRisk.map((packs, i) => packs - (own.atRisk[i] ?? 0)), failed };
}

/** With as few of the failures known as the doubt about the delay allows, and what was told so lately that hardly any may be left out. */
function sureSide(cells: readonly LifeCell[], ages: readonly number[], fault: string, reporting: Reporting): Side {
  const sure = sureOf(cells, reporting);
  const atRisk = visibleAtRisk(sure, ages, asLittleKnown(reporting));
  return { atRisk, failed: failuresByFaultAndAge(sure).get(fault) };
}

/** Observed and expected are of the same ages, or the count would drift away from what it is held against. */
function holdAgainst(ages: readonly number[], own: Side, likes: Side, packsBuilt: number) {
  let [observed, expected, variance, likesFailed, likesCounted, hazardToEnd] = [0, 0, 0, 0, 0, 0];
  let [countedFromDays, countedUpToDays, isBegun] = [0, WATCH_DAYS, false];
  for (const [i, age] of ages.entries()) {
    const others = likes.atRisk[i] ?? 0;
    if (!(others >= FEWEST_LIKES_AT_RISK)) {
      // Before the first age its likes were watched at, and beyond the last they have reached, nothing can be expected.
      if (!isBegun) {
        countedFromDays = age + 1;
        continue;
      }
      countedUpToDays = age - 1;
      break;
    }
    isBegun = true;
    const theirs = likes.failed?.get(age) ?? 0;
    const weight = (own.atRisk[i] ?? 0) / others;
    observed += own.failed?.get(age) ?? 0;
    expected += weight * theirs;
    // Of a weighted sum of Poisson counts.
    variance += weight * weight * theirs;
    likesFailed += theirs;
    if (weight > 0) likesCounted += theirs;
    hazardToEnd += theirs / others;
  }
  const baseline = variance > 0 ? (expected * expected) / variance : Number.POSITIVE_INFINITY;
  const expectedAtEnd = Math.max(expected, packsBuilt * hazardToEnd);
  return { observed, expected, baseline, expectedAtEnd, likesFailed, likesCounted, countedFromDays, countedUpToDays };
}

function notYetInUse(table: LifeTable, group: string, stratum: string): number {
  return sumPacks(table.excluded.filter((cell) => belongsTo(table, cell.group, group) && cell.stratum === stratum));
}

const ALL_FAULTS = "";

/** Failures by age, for all faults together and for each by itself. */
function failuresByFaultAndAge(cells: readonly LifeCell[]): Map<string, Map<number, number>> {
  const byFault = new Map<string, Map<number, number>>();
  for (const { status, exitDays, detail, packs } of cells) {
    if (status !== "failed") continue;
    for (const fault of new Set([ALL_FAULTS, detail ?? ALL_FAULTS])) {
      const byAge = byFault.get(fault) ?? new Map<number, number>();
      byFault.set(fault, byAge);
      byAge.set(exitDays, (byAge.get(exitDays) ?? 0) + packs);
    }
  }
  return byFault;
}
