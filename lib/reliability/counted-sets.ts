import type { RiskSet } from "@/lib/stats/risk-sets";
import { cellsByGroup, type LifeCell, type LifeTable } from "./life-cell";
import { belongsTo } from "./mixed-lots";
import type { Reporting } from "./reporting";
import { visibleRiskSets } from "./visible-risk-sets";

/** Risk sets of one stratum, and the sums over its groups, which every group is held against. */
export interface CountedStratum {
  readonly stratum: string;
  readonly sets: readonly RiskSet[];
  readonly totals: readonly { readonly atRisk: number; readonly failed: number; readonly failedWeight: number }[];
}

/** Risk sets of all groups of a table, stratum by stratum. */
export interface CountedSets {
  /** Whether groups are lots, of which a pack can have two: see `belongsTo`. */
  readonly hasPairs: boolean;
  readonly groups: readonly string[];
  readonly strata: readonly CountedStratum[];
}

interface CountedTable {
  readonly table: LifeTable;
  readonly reporting: Reporting;
}

export function riskSetsByStratum(table: LifeTable, reporting: Reporting): CountedSets {
  const lists = listsByStratum(table);
  const counted = lists.strata.map(([stratum, cells]) => countedStratum(stratum, visibleRiskSets(cells, reporting)));
  return { hasPairs: table.hasPairs === true, groups: lists.groups, strata: counted };
}

/**
 * Of two tables of the same groups and strata, at the ages at which anything failed in either of them: so that one side of a comparison
 * can be taken from the one and the other side from the other.
 */
export function countedAlike(first: CountedTable, second: CountedTable): readonly [CountedSets, CountedSets] {
  const groups = [...new Set([...first.table.cells, ...second.table.cells].map(({ group }) => group))];
  const [own, others] = [listsByStratum(first.table, groups), listsByStratum(second.table, groups)];
  const ofOthers = new Map(others.strata);
  const nothing = groups.map((): LifeCell[] => []);
  const reportings = [...groups.map(() => first.reporting), ...groups.map(() => second.reporting)];
  const both = own.strata.map(([stratum, cells]) => {
    const sets = visibleRiskSets([...cells, ...(ofOthers.get(stratum) ?? nothing)], reportings);
    const half = (columns: readonly number[], at: 0 | 1) => columns.slice(at * groups.length, (at + 1) * groups.length);
    const halves = (at: 0 | 1) =>
      sets.map(({ age, atRisk, failed, failedWeight = failed }): RiskSet => {
        return { age, atRisk: half(atRisk, at), failed: half(failed, at), failedWeight: half(failedWeight, at) };
      });
    return [countedStratum(stratum, halves(0)), countedStratum(stratum, halves(1))] as const;
  });
  const alike = (table: LifeTable, at: 0 | 1): CountedSets => {
    return { hasPairs: table.hasPairs === true, groups, strata: both.map((halves) => halves[at]) };
  };
  return [alike(first.table, 0), alike(second.table, 1)];
}

/** Confirmed lines of each stratum, group by group. */
function listsByStratum(table: LifeTable, groups = [...new Set(table.cells.map(({ group }) => group))]) {
  const byStratum = new Map<string, LifeCell[]>();
  for (const cell of table.cells) {
    const cells = byStratum.get(cell.stratum) ?? [];
    byStratum.set(cell.stratum, cells);
    if (cell.line === "confirmed") cells.push(cell);
  }
  const strata = [...byStratum].map(([stratum, cells]) => {
    const byGroup = cellsByGroup(cells);
    return [stratum, groups.map((group) => byGroup.get(group) ?? [])] as const;
  });
  return { groups, strata };
}

function countedStratum(stratum: string, sets: readonly RiskSet[]): CountedStratum {
  const totals = sets.map(({ atRisk, failed, failedWeight = failed }) => {
    return { atRisk: sum(atRisk), failed: sum(failed), failedWeight: sum(failedWeight) };
  });
  return { stratum, sets, totals };
}

/** Places, in the list of groups as counted, of those whose packs belong to the group; more than one only where lots are mixed. */
export function membersOf({ hasPairs, groups }: Omit<CountedSets, "strata">, group: string): number[] {
  return groups.flatMap((own, g) => (belongsTo({ hasPairs }, own, group) ? [g] : []));
}

/** One side of these risk sets beside the other side of those, at the ages at which anything failed. */
export function joinSides(first: readonly RiskSet[], second: readonly RiskSet[]): RiskSet[] {
  return first.flatMap((set, i): RiskSet[] => {
    const of = (key: "atRisk" | "failed" | "failedWeight") => {
      const beside = second[i];
      return [(set[key] ?? set.failed)[0] ?? 0, (beside?.[key] ?? beside?.failed)?.[1] ?? 0];
    };
    const failed = of("failed");
    return sum(failed) === 0 ? [] : [{ age: set.age, atRisk: of("atRisk"), failed, failedWeight: of("failedWeight") }];
  });
}

/** The same risk sets with all members as the first side and all others as the second: no pack is in one test twice. */
export function twoSides({ sets, totals }: CountedStratum, members: readonly number[]): RiskSet[] {
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

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
