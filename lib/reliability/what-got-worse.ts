import type { CompareBy } from "./compare-by";
import {
  cellsOfOthers,
  compareFamily,
  type GroupEffect,
  hangsOnDelay,
  isCalledWorse,
  type StrataComparison,
  worseGroups,
} from "./compare-strata";
import type { FailureEstimate } from "./failure-estimate";
import type { SetApart } from "./joint-lives";
import { cellsOfGroup, type LifeCell, type LifeTable, sumPacks } from "./life-cell";
import { type Allowance, allowanceOf, type Reporting, reportingAt } from "./reporting";
import { correctedShares } from "./visible-estimate";

/** What is looked at on the manager's first page, whatever is chosen to be shown below: each a family of tests of its own. */
export const watched = [
  "revision",
  "cell-lot",
  "joining-job",
  "potting-batch",
  "board-lot",
  "firmware",
  "dealer",
] as const satisfies readonly CompareBy[];

export function isWatched(by: CompareBy): boolean {
  return watched.some((one) => one === by);
}

export interface WatchedTable {
  readonly by: CompareBy;
  readonly table: LifeTable;
  /** Where groups of this attribute are confirmed at different speeds; missing where the delay of all is taken. */
  readonly reporting?: Reporting | undefined;
}

export interface WatchedComparison {
  readonly by: CompareBy;
  readonly comparison: StrataComparison;
}

export interface Worse {
  readonly by: CompareBy;
  readonly effect: GroupEffect;
  /** The same with the packs of what leads before it set apart; null for the first, and for what has not been held apart yet. */
  readonly apart: {
    readonly effect: GroupEffect;
    readonly from: readonly SetApart[];
    /** Groups of its attribute that could be tested again. */
    readonly tested: number;
  } | null;
  /** Groups of its attribute that were tested with it. */
  readonly tested: number;
  readonly packsInUse: number;
  /** Built and not known to be sold: about these something can still be done before anybody rides on them. */
  readonly packsNotSold: number;
  /** Still running under cover, no return open. */
  readonly packsRunning: number;
  readonly undecidedReturns: number;
  /** Both shares at the oldest common age at which both can be told; null where there is none yet, or its packs are of several strata. */
  readonly atOneAge: {
    readonly its: Extract<FailureEstimate, { kind: "estimate" }>;
    readonly others: Extract<FailureEstimate, { kind: "estimate" }>;
    /** Where a delay is known, so that what is not confirmed yet is allowed for: of the group itself. */
    readonly allowance: Allowance | null;
  } | null;
}

/**
 * Compares all that is watched; each attribute is a family of tests of its own. How many times as often a group fails is
 * worked out where it is shown: for all groups of the attribute chosen, and for those called worse.
 */
export function compareWatched(
  tables: readonly WatchedTable[],
  reporting: Reporting,
  chosen: CompareBy,
): WatchedComparison[] {
  return tables.map(({ by, table, reporting: own }) => {
    const delays = own ?? reporting;
    const comparison = compareFamily(table, delays, (adjusted) => {
      const worse = new Set(worseGroups(adjusted).map(({ group }) => group));
      return ({ group }) => by === chosen || worse.has(group);
    });
    return { by, comparison };
  });
}

/** A group of what is watched that the test calls, and that the delay alone could have made: not told yet. */
export interface Hanging extends SetApart {
  readonly isMore: boolean;
}

export function hangingGroups(comparisons: readonly WatchedComparison[]): Hanging[] {
  return comparisons
    .filter(({ by }) => isWatched(by))
    .flatMap(({ by, comparison: { groups } }) =>
      groups.filter(hangsOnDelay).map(({ group, observed, expected }) => ({ by, group, isMore: observed > expected })),
    );
}

/** How many groups of an attribute could be tested at all. */
export function testedGroups({ groups }: StrataComparison): number {
  return groups.filter(({ p }) => p !== null).length;
}

/**
 * All groups of what is watched that fail more than their likes, surest first. An attribute that is only chosen to be shown
 * below adds nothing here: the families tested for the answer are fixed in advance.
 */
export function allWorse(
  tables: readonly WatchedTable[],
  comparisons: readonly WatchedComparison[],
  reporting: Reporting,
): Worse[] {
  return comparisons
    .filter(({ by }) => isWatched(by))
    .flatMap(({ by, comparison }) => {
      const { table, reporting: own } = tables.find((one) => one.by === by) ?? {};
      return table === undefined
        ? []
        : worseGroups(comparison).map((effect) =>
            worseOf(by, effect, testedGroups(comparison), table, own ?? reporting),
          );
    })
    .sort((a, b) => (a.effect.p ?? 1) - (b.effect.p ?? 1));
}

function worseOf(by: CompareBy, effect: GroupEffect, tested: number, table: LifeTable, reporting: Reporting): Worse {
  const own = cellsOfGroup(table, effect.group);
  const confirmed = own.cells.filter(({ line }) => line === "confirmed");
  const with_ = (status: string) => sumPacks(confirmed.filter((cell) => cell.status === status));
  return {
    by,
    effect,
    apart: null,
    tested,
    packsInUse: sumPacks(confirmed),
    packsNotSold: sumPacks(own.excluded.filter(({ reason }) => reason === "unsold")),
    packsRunning: with_("running"),
    undecidedReturns: with_("undecided"),
    // Pooled over strata the shares would contradict the stratified ratio beside them.
    atOneAge:
      effect.strata.length > 1
        ? null
        : sharesAtOneAge(own.cells, cellsOfOthers(table, effect), reporting, effect.group),
  };
}

/** With what is not confirmed yet allowed for, as the ratio beside them has it. */
function sharesAtOneAge(
  own: readonly LifeCell[],
  others: readonly LifeCell[],
  reporting: Reporting,
  group: string,
): Worse["atOneAge"] {
  const allowance = allowanceOf(reportingAt(reporting, group));
  const [itsShares, othersShares] = [correctedShares(own, reporting), correctedShares(others, reporting)];
  for (const its of itsShares.headline.toReversed()) {
    const theirs = othersShares.headline.find(({ months }) => months === its.months);
    if (its.kind === "estimate" && theirs?.kind === "estimate") return { its, others: theirs, allowance };
  }
  return null;
}

/**
 * A group that fails more only because it shares packs with a worse one is not a second finding. Given its comparison with
 * the packs of the leading groups set apart as strata of their own, adjusted anew for all groups of its attribute, says whether it
 * still fails more there.
 */
export function standsAlone(effect: GroupEffect | null): effect is GroupEffect {
  return effect !== null && isCalledWorse(effect);
}
