import { benjaminiHochberg } from "@/lib/stats/benjamini-hochberg";
import { drawnHomogeneity, isSparse } from "@/lib/stats/drawn-homogeneity";
import { exactAgainstOthers } from "@/lib/stats/exact-against-others";
import { type HazardRatio, hazardRatioOfRiskSets } from "@/lib/stats/hazard-ratio";
import { logRankOfRiskSets } from "@/lib/stats/log-rank";
import { comparedAges, countsAtSharedAges, type RiskSet } from "@/lib/stats/risk-sets";
import { cellsByGroup, type LifeCell, type LifeTable } from "./life-cell";
import { belongsTo, cellsOfGroups } from "./mixed-lots";
import type { Reporting } from "./reporting";
import { knownAtOnce } from "./reporting-lag";
import { visibleRiskSets } from "./visible-risk-sets";
import { pWhateverDelay } from "./whatever-delay";

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
 * far less than one failure to expect; the size of the difference as a hazard ratio with likelihood-ratio limits. A lot is
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
): StrataComparison {
  const counted = riskSetsByStratum(table, reporting);
  const adjusted = askWhateverDelay(adjustFamily(comparisonOf(table, counted)), table, reporting);
  return ratiosAdded(adjusted, table, counted, wantedOf(adjusted));
}

function comparisonOf(table: LifeTable, { groups, strata }: CountedSets): StrataComparison {
  const sets = strata.map((stratum) => stratum.sets);
  const exact = exactAgainstOthers(sets, groups.length);
  const shared = countsAtSharedAges(sets, groups.length);
  const confirmed = table.cells.filter(({ line }) => line === "confirmed");
  return {
    groups: [...cellsOfGroups(table, confirmed)].map(([group, cells]): GroupEffect => {
      const failures = cells.reduce((sum, { status, packs }) => sum + (status === "failed" ? packs : 0), 0);
      const members = membersOf(table, groups, group);
      const [only = -1, second] = members;
      const own = second === undefined ? null : strata.map((stratum) => twoSides(stratum, members));
      const counts = own === null ? shared[only] : countsAtSharedAges(own, 2)[0];
      const { observed, expected } = counts ?? { observed: 0, expected: 0 };
      return {
        group,
        strata: [...new Set(cells.map(({ stratum }) => stratum))],
        observed,
        expected,
        alone: failures - observed,
        comparedAges: own === null ? comparedAges(sets, only) : comparedAges(own, 0),
        p: (own === null ? exact[only] : exactAgainstOthers(own, 2)[0]) ?? null,
        adjustedP: null,
        ratio: null,
        holds: null,
        doubtedP: null,
      };
    }),
  };
}

/** One group against the others of its strata, with its ratio: the same as in the comparison of all, at a fraction of its cost. */
export function compareOne(table: LifeTable, asked: string, reporting: Reporting = knownAtOnce): GroupEffect {
  const confirmed: LifeCell[] = [];
  const others: LifeCell[] = [];
  for (const cell of table.cells) {
    if (cell.line === "confirmed") (belongsTo(table, cell.group, asked) ? confirmed : others).push(cell);
  }
  const strata = [...new Set(confirmed.map(({ stratum }) => stratum))];
  const sets = strata.map((stratum) => {
    const ofIt = (cells: readonly LifeCell[]) => cells.filter((cell) => cell.stratum === stratum);
    return visibleRiskSets([ofIt(confirmed), ofIt(others)], reporting);
  });
  const { observed, expected } = countsAtSharedAges(sets, 2)[0] ?? { observed: 0, expected: 0 };
  const failures = confirmed.reduce((sum, { status, packs }) => sum + (status === "failed" ? packs : 0), 0);
  const p = exactAgainstOthers(sets, 2)[0] ?? null;
  const ratio = p === null ? null : hazardRatioOfRiskSets(sets, 0);
  return {
    group: asked,
    strata,
    observed,
    expected,
    alone: failures - observed,
    comparedAges: comparedAges(sets, 0),
    p,
    adjustedP: null,
    ratio: ratio?.kind === "estimate" ? ratio : null,
    holds: null,
    doubtedP: null,
  };
}

/** Places, in the list of groups as counted, of those whose packs belong to the group; more than one only where lots are mixed. */
function membersOf(table: LifeTable, groups: readonly string[], group: string): number[] {
  return groups.flatMap((own, g) => (belongsTo(table, own, group) ? [g] : []));
}

/** The same risk sets with all members as the first side and all others as the second: no pack is in one test twice. */
function twoSides({ sets, totals }: CountedStratum, members: readonly number[]): RiskSet[] {
  const sides = (values: readonly number[], all: number): number[] => {
    let own = 0;
    for (const g of members) own += values[g] ?? 0;
    return [own, all - own];
  };
  return sets.map(({ age, atRisk, failed, failedWeight = failed }, i) => {
    const all = totals[i] ?? { atRisk: 0, failed: 0, failedWeight: 0 };
    return {
      age,
      atRisk: sides(atRisk, all.atRisk),
      failed: sides(failed, all.failed),
      failedWeight: sides(failedWeight, all.failedWeight),
    };
  });
}

/** All groups at once; null where no two of one stratum can be compared. Costly where it has to be drawn, so asked for by itself. */
export function compareAtOnce(table: LifeTable, reporting: Reporting = knownAtOnce): GlobalTest | null {
  const { groups, strata } = riskSetsByStratum(table, reporting);
  const sets = strata.map((stratum) => stratum.sets);
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
  return ratiosAdded(comparison, table, riskSetsByStratum(table, reporting), isWanted);
}

function ratiosAdded(
  comparison: StrataComparison,
  table: LifeTable,
  { groups, strata }: CountedSets,
  isWanted: (effect: GroupEffect) => boolean,
): StrataComparison {
  return {
    ...comparison,
    groups: comparison.groups.map((effect) => {
      if (effect.p === null || !isWanted(effect)) return effect;
      const members = membersOf(table, groups, effect.group);
      const its = strata.filter(({ stratum }) => effect.strata.includes(stratum));
      const ratio = hazardRatioOfRiskSets(
        its.map((stratum) => twoSides(stratum, members)),
        0,
      );
      return { ...effect, ratio: ratio.kind === "estimate" ? ratio : null };
    }),
  };
}

/** Risk sets of one stratum, and the sums over its groups, which every group is held against. */
interface CountedStratum {
  readonly stratum: string;
  readonly sets: readonly RiskSet[];
  readonly totals: readonly { readonly atRisk: number; readonly failed: number; readonly failedWeight: number }[];
}

interface CountedSets {
  readonly groups: readonly string[];
  readonly strata: readonly CountedStratum[];
}

function riskSetsByStratum(table: LifeTable, reporting: Reporting): CountedSets {
  const groups = [...new Set(table.cells.map(({ group }) => group))];
  const byStratum = new Map<string, LifeCell[]>();
  for (const cell of table.cells) {
    const cells = byStratum.get(cell.stratum) ?? [];
    byStratum.set(cell.stratum, cells);
    if (cell.line === "confirmed") cells.push(cell);
  }
  const strata = [...byStratum].map(([stratum, cells]): CountedStratum => {
    const byGroup = cellsByGroup(cells);
    const sets = visibleRiskSets(
      groups.map((group) => byGroup.get(group) ?? []),
      reporting,
    );
    const totals = sets.map(({ atRisk, failed, failedWeight = failed }) => {
      return { atRisk: sum(atRisk), failed: sum(failed), failedWeight: sum(failedWeight) };
    });
    return { stratum, sets, totals };
  });
  return { groups, strata };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
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
export function askWhateverDelay(
  comparison: StrataComparison,
  table: LifeTable,
  reporting: Reporting,
): StrataComparison {
  const called = comparison.groups.filter(isCalled);
  const doubted = called.map(
    (effect) =>
      effect.doubtedP ?? pWhateverDelay(table, { ...effect, isMore: effect.observed > effect.expected }, reporting),
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

function isCalled({ adjustedP }: GroupEffect): boolean {
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
