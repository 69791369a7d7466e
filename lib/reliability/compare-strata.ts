import { benjaminiHochberg } from "@/lib/stats/benjamini-hochberg";
import { type HazardRatio, hazardRatio } from "@/lib/stats/hazard-ratio";
import type { LifeCount } from "@/lib/stats/life-counts";
import { stratifiedLogRank } from "@/lib/stats/log-rank";
import { cellsByGroup, countCells, type LifeTable } from "./life-cell";

export interface GroupEffect {
  readonly group: string;
  readonly strata: readonly string[];
  readonly observed: number;
  /** Failures it would have had, had all groups of its strata failed alike at equal ages. */
  readonly expected: number;
  /** Of this group against the others of its strata; null where it shares no failure age with them. */
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
 * One global stratified log-rank test; each group against all others of its strata together; the size of the difference
 * as a hazard ratio with likelihood-ratio limits. Test and limits come from one likelihood (Cox's partial one: the
 * log-rank test is its slope at ratio 1). `adjustedP` is left to `adjustFamily`.
 */
export function compareStrata(table: LifeTable): StrataComparison {
  const groups = [...new Set(table.cells.map(({ group }) => group))];
  const strata = [...new Set(table.cells.map(({ stratum }) => stratum))].map((stratum) => {
    const cells = table.cells.filter((cell) => cell.stratum === stratum && cell.line === "confirmed");
    const byGroup = cellsByGroup(cells);
    return { stratum, lives: groups.map((group) => countCells(byGroup.get(group) ?? [], "confirmed")) };
  });
  if (groups.length < 2) return { global: null, groups: groups.map((group) => untested(group, table)) };
  const test = stratifiedLogRank(strata.map(({ lives }) => lives));
  if (test.kind === "no-comparison") return { global: null, groups: groups.map((group) => untested(group, table)) };
  const { chiSquare, degreesOfFreedom, p } = test;
  return {
    global: { chiSquare, degreesOfFreedom, p },
    groups: groups.map((group, g) => {
      const found = test.groups[g];
      const its = strata.filter(({ lives }) => (lives[g]?.length ?? 0) > 0);
      const ratio = hazardRatio(
        its.map(({ lives }) => againstOthers(lives, g)),
        0,
      );
      return {
        group,
        strata: its.map(({ stratum }) => stratum),
        observed: found?.observed ?? 0,
        expected: found?.expected ?? 0,
        p: found?.pAgainstOthers ?? null,
        adjustedP: null,
        ratio: ratio.kind === "estimate" && found?.pAgainstOthers != null ? ratio : null,
      };
    }),
  };
}

/** Two lists in place of many: the group itself and all others as one, so that the cost is that of two. */
function againstOthers(lives: readonly (readonly LifeCount[])[], g: number): [readonly LifeCount[], LifeCount[]] {
  const others = new Map<number, { age: number; entered: number; failed: number; censored: number }>();
  for (const [i, counts] of lives.entries()) {
    if (i === g) continue;
    for (const { age, entered, failed, censored } of counts) {
      const known = others.get(age) ?? { age, entered: 0, failed: 0, censored: 0 };
      known.entered += entered;
      known.failed += failed;
      known.censored += censored;
      others.set(age, known);
    }
  }
  return [lives[g] ?? [], [...others.values()].sort((a, b) => a.age - b.age)];
}

/** Counts of all packs of the group's strata that are not of the group: what it is held against, drawn as one curve. */
export function othersOf(table: LifeTable, { group, strata }: Pick<GroupEffect, "group" | "strata">): LifeCount[] {
  return countCells(
    table.cells.filter((cell) => cell.group !== group && strata.includes(cell.stratum)),
    "confirmed",
  );
}

function untested(group: string, table: LifeTable): GroupEffect {
  const cells = table.cells.filter((cell) => cell.group === group && cell.line === "confirmed");
  const strata = [...new Set(cells.map(({ stratum }) => stratum))];
  const observed = cells.reduce((sum, { status, packs }) => sum + (status === "failed" ? packs : 0), 0);
  return { group, strata, observed, expected: observed, p: null, adjustedP: null, ratio: null };
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
