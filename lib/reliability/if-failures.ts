import { poissonLimits } from "@/lib/stats/poisson-limits";
import type { CompareBy } from "./compare-by";
import {
  adjustFamily,
  askWhateverDelay,
  CALLED_BELOW,
  compareFamily,
  compareSides,
  type GroupEffect,
  type StrataComparison,
  worseGroups,
} from "./compare-strata";
import { type CountedSets, countedAlike, joinSides, membersOf, twoSides } from "./counted-sets";
import { type EarlySignals, earlySignals, WATCH_DAYS, type WatchState } from "./early-signals";
import type { LifeTable } from "./life-cell";
import { countLongUndecided, tableTakenAsFailures } from "./long-undecided";
import { belongsTo, cellsOfGroups } from "./mixed-lots";
import type { Reporting } from "./reporting";
import type { WatchedComparison, WatchedTable } from "./what-got-worse";
import { doubtedSets, pWhateverDelay } from "./whatever-delay";

/** A group of which returns have long been undecided, compared once more as if they were failures. */
export interface IfFailures {
  readonly by: CompareBy;
  readonly group: string;
  readonly undecided: number;
  /** Against the others of its strata, in which they count as failures as well; its p is null where it can be held against none. */
  readonly effect: GroupEffect;
  /** Were its own alone failures, and those of the others none: its worst case. Null where not even then it could be called worse. */
  readonly ownAlone: GroupEffect | null;
  /** Whether it is called worse as things stand, and in either case. */
  readonly isWorse: boolean;
  readonly wouldBeWorse: boolean;
}

/**
 * Answers: would another answer be given, were the returns that have been undecided for too long failures?
 *
 * The whole comparison again, tests, ratios and adjustment alike, with those returns as failures in every group; and for each
 * group that could stand out by them with its own alone as failures, which is the worst that can be true of it. Empty where
 * there is no such return. Groups whose call would change come first, then by the number of returns. How many times as often
 * is worked out for those asked about and those that would be worse. Where a page tells of some groups alone (`isTold`) no others are put otherwise.
 */
export function ifFailures(
  tables: readonly WatchedTable[],
  comparisons: readonly WatchedComparison[],
  reporting: Reporting,
  waitedDays: number,
  isAsked: (by: CompareBy, group: string) => boolean,
  isTold: (group: string) => boolean = () => true,
): IfFailures[] {
  return tables
    .flatMap(({ by, table, reporting: own }): IfFailures[] => {
      const delays = own ?? reporting;
      const undecided = new Map(
        [...cellsOfGroups(table, table.cells)].map(([group, own]) => [group, countLongUndecided(own, waitedDays)]),
      );
      if ([...undecided.values()].every((count) => count === 0)) return [];
      const taken = tableTakenAsFailures(table, waitedDays);
      const isConcerned = ({ group }: GroupEffect) => (undecided.get(group) ?? 0) > 0;
      const comparison = compareFamily(taken, delays, (adjusted) => {
        const then = new Set(worseGroups(adjusted).map(({ group }) => group));
        return (effect) => isConcerned(effect) && (isAsked(by, effect.group) || then.has(effect.group));
      });
      const then = new Set(worseGroups(comparison).map(({ group }) => group));
      const now = comparisons.find((one) => one.by === by)?.comparison;
      const worse = new Set((now === undefined ? [] : worseGroups(now)).map(({ group }) => group));
      let counted: PutOtherwise | undefined;
      const otherwise = (standing: StrataComparison) => {
        counted ??= putOtherwise(standing, table, taken, delays);
        return counted;
      };
      const told = comparison.groups.filter((effect) => isConcerned(effect) && isTold(effect.group));
      return told.map((effect) => {
        const { group } = effect;
        const waiting = undecided.get(group) ?? 0;
        const standing = now?.groups.find((one) => one.group === group);
        const canBe = now !== undefined && standing !== undefined && couldBeWorse(effect, standing, now);
        // What is called worse without its own is so with them: there the numbers alone are wanted, and not of every group.
        const alone = canBe && (isAsked(by, group) || !worse.has(group)) ? ownAsFailures(otherwise(now), effect) : null;
        const isWorseAlone =
          alone === null ? canBe && worse.has(group) : worseGroups(alone).some((one) => one.group === group);
        return {
          by,
          group,
          undecided: waiting,
          effect,
          ownAlone: alone?.groups.find((one) => one.group === group) ?? null,
          isWorse: worse.has(group),
          wouldBeWorse: then.has(group) || isWorseAlone,
        };
      });
    })
    .sort((a, b) => Number(changes(b)) - Number(changes(a)) || b.undecided - a.undecided);
}

/**
 * Whether so many failures could be called beside the few that are expected as things stand; spares the costly comparison where
 * not. Only the p of this group changes, so by Benjamini-Hochberg it must come below the level times the share of the groups
 * that are below it then. Generous: one side of the exact Poisson tail for both sides of the mid-p.
 */
function couldBeWorse(taken: GroupEffect, standing: GroupEffect, { groups }: StrataComparison): boolean {
  const tested = groups.flatMap(({ p }) => (p === null ? [] : [p]));
  const low = 1 + tested.filter((p) => p < CALLED_BELOW).length;
  const level = Math.min(CALLED_BELOW, (CALLED_BELOW * low) / Math.max(1, tested.length));
  return poissonLimits(taken.observed, 1 - 2 * level).lower > standing.expected;
}

/** What is counted once of an attribute for all groups whose own returns are put otherwise. */
interface PutOtherwise {
  readonly now: StrataComparison;
  /** All such returns as failures, and none, at the same ages. */
  readonly failed: CountedSets;
  readonly standing: CountedSets;
  /** How each group is asked whatever the delays are: as all stand, and with its own as failures. */
  readonly doubted: ReturnType<typeof doubtedSets>;
  readonly doubtedOwn: ReturnType<typeof doubtedSets>;
}

function putOtherwise(now: StrataComparison, table: LifeTable, taken: LifeTable, reporting: Reporting): PutOtherwise {
  const [failed, standing] = countedAlike({ table: taken, reporting }, { table, reporting });
  const doubtedOwn = doubtedSets(taken, reporting, table);
  return { now, failed, standing, doubted: doubtedSets(table, reporting), doubtedOwn };
}

/**
 * The comparison as it stands, but for this group, whose long undecided returns are failures: it alone is compared and asked anew, since
 * the failures of so many others hardly change by it.
 */
function ownAsFailures({ now, failed, standing, ...asked }: PutOtherwise, effect: GroupEffect): StrataComparison {
  const { group, strata } = effect;
  const sides = failed.strata.flatMap((stratum, s) =>
    strata.includes(stratum.stratum)
      ? [
          joinSides(
            twoSides(stratum, membersOf(failed, group)),
            twoSides(standing.strata[s] ?? stratum, membersOf(standing, group)),
          ),
        ]
      : [],
  );
  const own = compareSides({ group, strata, failures: effect.observed + effect.alone }, sides);
  const adjusted = adjustFamily({ groups: now.groups.map((one) => (one.group === group ? own : one)) });
  return askWhateverDelay(adjusted, (called) => {
    const isIts = called.group === group && called.isMore;
    return pWhateverDelay(isIts ? asked.doubtedOwn() : asked.doubted(), called);
  });
}

function changes({ isWorse, wouldBeWorse }: IfFailures): boolean {
  return isWorse !== wouldBeWorse;
}

/** A watch of which returns have long been undecided, as it stands and as it would were they failures. */
export interface SignalIfFailures {
  readonly now: WatchState;
  readonly then: WatchState;
  readonly undecided: number;
}

/** The same of early signals, all faults together, the chance shared over as many; those nearest to a signal first. */
export function signalsIfFailures(
  tables: readonly WatchedTable[],
  { states, sharedOver }: EarlySignals,
  reporting: Reporting,
  waitedDays: number,
): SignalIfFailures[] {
  const concerned = tables.filter(({ table }) => countLongUndecided(table.cells, waitedDays) > 0);
  const taken = concerned.map((one) => ({ ...one, table: tableTakenAsFailures(one.table, waitedDays) }));
  return earlySignals(taken, reporting, () => sharedOver).states.flatMap((then) => {
    const { by, group, stratum, fault } = then;
    const table = concerned.find((one) => one.by === by)?.table;
    const now = states.find((one) => one.by === by && one.group === group && one.stratum === stratum && !one.fault);
    if (fault !== null || table === undefined || now === undefined) return [];
    const own = table.cells.filter(
      (cell) => belongsTo(table, cell.group, group) && cell.stratum === stratum && cell.exitDays <= WATCH_DAYS,
    );
    const undecided = countLongUndecided(own, waitedDays);
    return undecided === 0 ? [] : [{ now, then, undecided }];
  });
}
