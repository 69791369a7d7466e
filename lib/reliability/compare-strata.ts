import { benjaminiHochberg } from "@/lib/stats/benjamini-hochberg";
import { exactAgainstOthers } from "@/lib/stats/exact-against-others";
import { type HazardRatio, hazardRatioOfRiskSets } from "@/lib/stats/hazard-ratio";
import { logRankOfRiskSets } from "@/lib/stats/log-rank";
import type { RiskSet } from "@/lib/stats/risk-sets";
import { cellsByGroup, type LifeCell, type LifeTable } from "./life-cell";
import type { Reporting } from "./reporting";
import { knownAtOnce } from "./reporting-lag";
import { visibleRiskSets } from "./visible-risk-sets";

export interface GroupEffect {
  readonly group: string;
  readonly strata: readonly string[];
  readonly observed: number;
  /** Failures it would have had, had all groups of its strata failed alike at equal ages. */
  readonly expected: number;
  /** Of this group against the others of its strata, exact mid-p; null where it shares no failure age with them. */
  readonly p: number | null;
  /** Adjusted for all groups of the attribute; null where p is. */
  readonly adjustedP: number | null;
  /** Its hazard over that of the others; null where nothing can be compared. */
  readonly ratio: HazardRatio | null;
}

export interface StrataComparison {
  /** Of all groups at once; null where no two of one stratum can be compared. */
  readonly global: { readonly chiSquare: number; readonly degreesOfFreedom: number; readonly p: number } | null;
  readonly groups: readonly GroupEffect[];
}

/** A call at this level is wrong in at most 5 of 100 calls on average (false discovery rate). Common practice, no source. */
export const CALLED_BELOW = 0.05;

/**
 * Answers: do the groups fail alike at equal ages within their strata, which of them does not, and by how much?
 *
 * One global stratified log-rank test; each group against all others of its strata together by the exact distribution of
 * the same count, because many lots have far less than one failure to expect; the size of the difference as a hazard ratio
 * with likelihood-ratio limits. Tests and limits come from one likelihood (Cox's partial one: the log-rank test is its slope
 * at ratio 1), in which each pack counts with the chance that a failure at its age would be known by now, so that young
 * groups do not look good. `adjustedP` is left to `adjustFamily`, ratios to `withRatios`.
 */
export function compareStrata(table: LifeTable, reporting: Reporting = knownAtOnce): StrataComparison {
  const { groups, strata } = riskSetsByStratum(table, reporting);
  const cellsOf = cellsByGroup(table.cells.filter(({ line }) => line === "confirmed"));
  const test =
    groups.length < 2
      ? null
      : logRankOfRiskSets(
          strata.map(({ sets }) => sets),
          groups.length,
        );
  const found = test === null || test.kind === "no-comparison" ? null : test;
  const exact =
    found &&
    exactAgainstOthers(
      strata.map(({ sets }) => sets),
      groups.length,
    );
  return {
    global: found && { chiSquare: found.chiSquare, degreesOfFreedom: found.degreesOfFreedom, p: found.p },
    groups: groups.map((group, g) => {
      const cells = cellsOf.get(group) ?? [];
      const failures = cells.reduce((sum, { status, packs }) => sum + (status === "failed" ? packs : 0), 0);
      return {
        group,
        strata: [...new Set(cells.map(({ stratum }) => stratum))],
        observed: found?.groups[g]?.observed ?? failures,
        expected: found?.groups[g]?.expected ?? failures,
        p: exact?.[g] ?? null,
        adjustedP: null,
        ratio: null,
      };
    }),
  };
}

/** Adds how many times as often each of the groups wanted fails as the others of its strata: costly, so not for all. */
export function withRatios(
  comparison: StrataComparison,
  table: LifeTable,
  reporting: Reporting = knownAtOnce,
  isWanted: (effect: GroupEffect) => boolean = () => true,
): StrataComparison {
  const { groups, strata } = riskSetsByStratum(table, reporting);
  return {
    ...comparison,
    groups: comparison.groups.map((effect) => {
      if (effect.p === null || !isWanted(effect)) return effect;
      const its = strata.filter(({ stratum }) => effect.strata.includes(stratum));
      const ratio = hazardRatioOfRiskSets(
        its.map(({ sets }) => sets),
        groups.indexOf(effect.group),
      );
      return { ...effect, ratio: ratio.kind === "estimate" ? ratio : null };
    }),
  };
}

function riskSetsByStratum(table: LifeTable, reporting: Reporting) {
  const groups = [...new Set(table.cells.map(({ group }) => group))];
  const byStratum = new Map<string, LifeCell[]>();
  for (const cell of table.cells) {
    const cells = byStratum.get(cell.stratum) ?? [];
    byStratum.set(cell.stratum, cells);
    if (cell.line === "confirmed") cells.push(cell);
  }
  const strata = [...byStratum].map(([stratum, cells]): { stratum: string; sets: RiskSet[] } => {
    const byGroup = cellsByGroup(cells);
    return {
      stratum,
      sets: visibleRiskSets(
        groups.map((group) => byGroup.get(group) ?? []),
        reporting,
      ),
    };
  });
  return { groups, strata };
}

/** Cells of all packs of the group's strata that are not of the group: what it is held against. */
export function cellsOfOthers(table: LifeTable, { group, strata }: Pick<GroupEffect, "group" | "strata">): LifeCell[] {
  return table.cells.filter((cell) => cell.group !== group && strata.includes(cell.stratum));
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

/** Groups that fail more than the others of their strata, surest first. */
export function worseGroups({ groups }: StrataComparison): GroupEffect[] {
  return groups
    .filter(
      ({ observed, expected, adjustedP }) => adjustedP !== null && adjustedP < CALLED_BELOW && observed > expected,
    )
    .sort((a, b) => (a.p ?? 1) - (b.p ?? 1));
}
