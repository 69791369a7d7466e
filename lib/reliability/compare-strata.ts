import { benjaminiHochberg } from "@/lib/stats/benjamini-hochberg";
import { drawnHomogeneity, isSparse } from "@/lib/stats/drawn-homogeneity";
import { exactOfSides } from "@/lib/stats/exact-against-others";
import { type HazardRatio, hazardRatioOfSides } from "@/lib/stats/hazard-ratio";
import { logRankOfRiskSets } from "@/lib/stats/log-rank";
import { countsAtSharedAges } from "@/lib/stats/risk-sets";
import { comparedAges, countsOfSides, type TwoSides } from "@/lib/stats/two-sides";
import { type CountedSets, membersOf, riskSetsByStratum, setsOf, twoSides } from "./counted-sets";
import type { LifeCell, LifeTable } from "./life-cell";
import { belongsTo, cellsOfGroups } from "./mixed-lots";
import type { Reporting } from "./reporting";
import { knownAtOnce } from "./reporting-lag";
import { type Called, doubtedSets, pWhateverDelay } from "./whatever-delay";

export interface GroupEffect {
  readonly group: string;
  readonly strata: readonly string[];
  /** Failures at ages at which others of its strata were watched too: what is compared. */
  readonly observed: number;
  /** Failures it would have had at these ages, had all groups of its strata failed alike. */
  readonly expected: number;
  /** Failures at ages at which none of the others was watched: they say nothing for or against it. */
  readonly alone: number;
  /** Ages from and up to which its failures are those compared and no others; null where they are not told apart by age. */
  readonly comparedAges: { readonly from: number; readonly upTo: number } | null;
  /** Of this group against the others of its strata, exact mid-p; null where it shares no failure age with them. */
  readonly p: number | null;
  /** Adjusted for all groups of the attribute; null where p is. */
  readonly adjustedP: number | null;
  /** Its hazard over that of the others; null where nothing can be compared. */
  readonly ratio: HazardRatio | null;
  /**
   * Whether a difference called by `adjustedP` is one for every delay left open (`askWhateverDelay`). Null where none is called or nobody asked.
   */
  readonly holds: boolean | null;
  /** Of a difference that is called: its p in the case that speaks most against it; null as `holds` is. */
  readonly doubtedP: number | null;
}

/** Of all groups at once. */
export interface GlobalTest {
  /** Log-rank. */
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  /** Of the log-rank test, or drawn where some groups have too little to expect for that (`drawnHomogeneity`). */
  readonly p: number;
  /** Fleets drawn; null where the chi-square distribution was taken. */
  readonly draws: number | null;
}

export interface StrataComparison {
  readonly groups: readonly GroupEffect[];
}

/** A call at this level is wrong in at most 5 of 100 calls on average (false discovery rate). Common practice, no source. */
export const CALLED_BELOW = 0.05;

/**
 * Answers: do the groups fail alike at equal ages within their strata, which of them does not, and by how much?
 *
 * Each group against all others of its strata together by the exact distribution of the log-rank count, because many lots have
 * far less than one failure to expect; the size of the difference as a hazard ratio with limits of the same distribution. A lot is
 * compared as "has cells of it" against "has none". Tests and limits come from one likelihood (Cox's partial one: the log-rank
 * test is its slope at ratio 1), in which each pack counts with the chance that a failure at its age would be known by now, so that young
 * groups do not look good. `adjustedP` is left to `adjustFamily`, ratios to `withRatios`, the test of all
 * groups at once to `compareAtOnce`.
 */
export function compareStrata(table: LifeTable, reporting: Reporting = knownAtOnce): StrataComparison {
  return comparisonOf(table, riskSetsByStratum(table, reporting));
}

/** The same adjusted, each call asked whatever the delay, with the ratios of those groups that are wanted of the adjusted comparison: the risk sets are counted once. */
export function compareFamily(
  table: LifeTable,
  reporting: Reporting,
  wantedOf: (adjusted: StrataComparison) => (effect: GroupEffect) => boolean,
  counted: CountedSets = riskSetsByStratum(table, reporting),
): StrataComparison {
  const doubted = doubtedSets(table, reporting);
  const adjusted = askWhateverDelay(adjustFamily(comparisonOf(table, counted)), (effect) =>
    pWhateverDelay(doubted(), effect),
  );
  return ratiosAdded(adjusted, counted, wantedOf(adjusted));
}

function comparisonOf(table: LifeTable, counted: CountedSets): StrataComparison {
  const confirmed = table.cells.filter(({ line }) => line === "confirmed");
  return {
    groups: [...cellsOfGroups(table, confirmed)].map(([group, cells]): GroupEffect => {
      const failures = cells.reduce((sum, { status, packs }) => sum + (status === "failed" ? packs : 0), 0);
      const members = membersOf(counted, group);
      const strata = [...new Set(cells.map(({ stratum }) => stratum))];
      const sides = counted.strata.map((stratum) => twoSides(stratum, members));
      return effectOfSides({ group, strata, failures }, sides);
    }),
  };
}

function effectOfSides({ group, strata, failures }: ComparedGroup, sides: readonly TwoSides[]): GroupEffect {
  const { observed, expected } = countsOfSides(sides);
  return {
    group,
    strata,
    observed,
    expected,
    alone: failures - observed,
    comparedAges: comparedAges(sides),
    p: exactOfSides(sides),
    adjustedP: null,
    ratio: null,
    holds: null,
    doubtedP: null,
  };
}

type ComparedGroup = Pick<GroupEffect, "group" | "strata"> & { readonly failures: number };

/** One group against the others of its strata, each stratum as two sides, with its ratio: the same as in the comparison of all. */
export function compareSides(compared: ComparedGroup, sides: readonly TwoSides[]): GroupEffect {
  const effect = effectOfSides(compared, sides);
  const ratio = effect.p === null ? null : hazardRatioOfSides(sides);
  return { ...effect, ratio: ratio?.kind === "estimate" ? ratio : null };
}

/** All groups at once; null where no two of one stratum can be compared. Costly where it has to be drawn, so asked for by itself. */
export function compareAtOnce(table: LifeTable, reporting: Reporting = knownAtOnce): GlobalTest | null {
  const { groups, strata } = riskSetsByStratum(table, reporting);
  const sets = strata.map(setsOf);
  const test = groups.length < 2 ? null : logRankOfRiskSets(sets, groups.length);
  if (test === null || test.kind === "no-comparison") return null;
  const { chiSquare, degreesOfFreedom, p } = test;
  const drawn = isSparse(countsAtSharedAges(sets, groups.length)) ? drawnHomogeneity(sets, groups.length) : null;
  return { chiSquare, degreesOfFreedom, p: drawn?.p ?? p, draws: drawn?.draws ?? null };
}

/** Adds how many times as often each of the groups wanted fails as the others of its strata: costly, so not for all. */
export function withRatios(
  comparison: StrataComparison,
  table: LifeTable,
  reporting: Reporting = knownAtOnce,
  isWanted: (effect: GroupEffect) => boolean = () => true,
): StrataComparison {
  return ratiosAdded(comparison, riskSetsByStratum(table, reporting), isWanted);
}

function ratiosAdded(
  comparison: StrataComparison,
  counted: CountedSets,
  isWanted: (effect: GroupEffect) => boolean,
): StrataComparison {
  return {
    ...comparison,
    groups: comparison.groups.map((effect) => {
      if (effect.p === null || !isWanted(effect)) return effect;
      const members = membersOf(counted, effect.group);
      const its = counted.strata.filter(({ stratum }) => effect.strata.includes(stratum));
      const ratio = hazardRatioOfSides(its.map((stratum) => twoSides(stratum, members)));
      return { ...effect, ratio: ratio.kind === "estimate" ? ratio : null };
    }),
  };
}

/** Cells of all packs of the group's strata that are not of the group: what it is held against. */
export function cellsOfOthers(table: LifeTable, { group, strata }: Pick<GroupEffect, "group" | "strata">): LifeCell[] {
  return table.cells.filter((cell) => !belongsTo(table, cell.group, group) && strata.includes(cell.stratum));
}

/**
 * Adjusts the tests of one comparison as one family (Benjamini-Hochberg). The family is fixed in advance: all groups of one
 * attribute, of all models. Revisions, lots and dealers are questions of their own; put into one family, the many lots
 * would drown a bad revision.
 */
export function adjustFamily(comparison: StrataComparison): StrataComparison {
  const family = comparison.groups.flatMap(({ p }) => (p === null ? [] : [p]));
  const adjusted = benjaminiHochberg(family).values();
  return {
    ...comparison,
    groups: comparison.groups.map((effect) => ({
      ...effect,
      adjustedP: effect.p === null ? null : (adjusted.next().value ?? null),
    })),
  };
}

/**
 * Asks of every difference that is called whether it is one whatever the delays are (`pWhateverDelay`), adjusted among those that
 * are asked. Those that are not called need no second protection: a call stands only where both tests make it. Where the delays
 * are alike the first alone keeps the share of false calls; where they are not, it calls much, and as much is adjusted for here.
 * One that was asked before keeps its answer (`doubtedP`), so that where a single group is put otherwise only that one is asked anew.
 */
export function askWhateverDelay(comparison: StrataComparison, ask: (called: Called) => number): StrataComparison {
  const called = comparison.groups.filter(isCalled);
  const doubted = called.map(
    (effect) => effect.doubtedP ?? ask({ ...effect, isMore: effect.observed > effect.expected }),
  );
  const answers = new Map(
    benjaminiHochberg(doubted).map((p, at) => [
      called[at]?.group,
      { holds: p < CALLED_BELOW, doubtedP: doubted[at] ?? null },
    ]),
  );
  const notAsked = { holds: null, doubtedP: null };
  const groups = comparison.groups.map(
    (effect): GroupEffect => ({ ...effect, ...(answers.get(effect.group) ?? notAsked) }),
  );
  return { ...comparison, groups };
}

export function isCalled({ adjustedP }: GroupEffect): boolean {
  return adjustedP !== null && adjustedP < CALLED_BELOW;
}

/** Whether a group is called to fail more than the others of its strata. */
export function isCalledWorse(effect: GroupEffect): boolean {
  return isCalled(effect) && effect.observed > effect.expected && effect.holds !== false;
}

/** Whether the test calls a difference that the delay alone could have made: it cannot be told yet. */
export function hangsOnDelay({ holds }: Pick<GroupEffect, "holds">): boolean {
  return holds === false;
}

/** Groups that fail more than the others of their strata, surest first. */
export function worseGroups({ groups }: StrataComparison): GroupEffect[] {
  return groups.filter(isCalledWorse).sort((a, b) => (a.p ?? 1) - (b.p ?? 1));
}
