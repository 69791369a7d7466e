import type { RiskSet } from "@/lib/stats/risk-sets";
import type { TwoSides } from "@/lib/stats/two-sides";
import type { LifeCell, LifeTable } from "./life-cell";
import { belongsTo } from "./mixed-lots";
import type { Reporting } from "./reporting";
import { type VisibleColumns, visibleColumns } from "./visible-risk-sets";

/** Risk sets of one stratum, and the sums over its groups, which every group is held against. */
export interface CountedStratum extends VisibleColumns {
  readonly stratum: string;
  readonly all: Readonly<Record<Counted, Float64Array>>;
}

type Counted = "atRisk" | "failed" | "failedWeight";

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
  const groups = groupsIn(table);
  const reportings = groups.map(() => reporting);
  const strata = listsByStratum(table, groups).map(([stratum, cells]) =>
    countedStratum(stratum, visibleColumns(cells, reportings)),
  );
  return { hasPairs: table.hasPairs === true, groups, strata };
}

/**
 * Of two tables of the same groups and strata, at the ages at which anything failed in either of them: so that one side of a comparison
 * can be taken from the one and the other side from the other.
 */
export function countedAlike(first: CountedTable, second: CountedTable): readonly [CountedSets, CountedSets] {
  const groups = groupsIn(first.table, second.table);
  const ofOthers = new Map(listsByStratum(second.table, groups));
  const nothing = groups.map((): LifeCell[] => []);
  const reportings = [...groups.map(() => first.reporting), ...groups.map(() => second.reporting)];
  const both = listsByStratum(first.table, groups).map(([stratum, cells]) => {
    const { ages, ...columns } = visibleColumns([...cells, ...(ofOthers.get(stratum) ?? nothing)], reportings);
    const half = (at: 0 | 1): CountedStratum => {
      const of = (counted: Counted) => columns[counted].slice(at * groups.length, (at + 1) * groups.length);
      const halves = { atRisk: of("atRisk"), failed: of("failed"), failedWeight: of("failedWeight") };
      return countedStratum(stratum, { ages, ...halves });
    };
    return [half(0), half(1)] as const;
  });
  const alike = (table: LifeTable, at: 0 | 1): CountedSets => {
    return { hasPairs: table.hasPairs === true, groups, strata: both.map((halves) => halves[at]) };
  };
  return [alike(first.table, 0), alike(second.table, 1)];
}

function groupsIn(...tables: readonly LifeTable[]): string[] {
  const groups = new Set<string>();
  for (const { cells } of tables) for (const { group } of cells) groups.add(group);
  return [...groups];
}

/** Confirmed lines of each stratum, group by group. */
function listsByStratum({ cells }: LifeTable, groups: readonly string[]) {
  const position = new Map(groups.map((group, g) => [group, g]));
  const byStratum = new Map<string, LifeCell[][]>();
  let [stratum, group]: [string | null, string | null] = [null, null];
  let [lists, list]: [LifeCell[][], LifeCell[]] = [[], []];
  for (const cell of cells) {
    // Cells of one group and stratum mostly follow one another.
    if (cell.stratum !== stratum || cell.group !== group) {
      ({ stratum, group } = cell);
      lists = byStratum.get(stratum) ?? groups.map(() => []);
      byStratum.set(stratum, lists);
      list = lists[position.get(group) ?? -1] ?? [];
    }
    if (cell.line === "confirmed") list.push(cell);
  }
  return [...byStratum];
}

function countedStratum(stratum: string, columns: VisibleColumns): CountedStratum {
  const { atRisk, failed, failedWeight } = columns;
  const { length } = columns.ages;
  const all = {
    atRisk: summed(atRisk, length),
    failed: summed(failed, length),
    failedWeight: summed(failedWeight, length),
  };
  return { stratum, ...columns, all };
}

/** Risk sets age by age, for tests of all groups at once. */
export function setsOf({ ages, atRisk, failed, failedWeight }: CountedStratum): RiskSet[] {
  const at = (columns: readonly Float64Array[], i: number) => columns.map((column) => column[i] ?? 0);
  return [...ages].map((age, i) => {
    return { age, atRisk: at(atRisk, i), failed: at(failed, i), failedWeight: at(failedWeight, i) };
  });
}

/** Places, in the list of groups as counted, of those whose packs belong to the group; more than one only where lots are mixed. */
export function membersOf({ hasPairs, groups }: Omit<CountedSets, "strata">, group: string): number[] {
  return groups.flatMap((own, g) => (belongsTo({ hasPairs }, own, group) ? [g] : []));
}

/** The own side of these beside the other side of those, at their common ages. */
export function joinSides(first: TwoSides, second: TwoSides): TwoSides {
  const joined = (own: Float64Array, all: Float64Array, ownOfSecond: Float64Array) =>
    own.map((its, i) => its + (all[i] ?? 0) - (ownOfSecond[i] ?? 0));
  return {
    ...first,
    all: joined(first.own, second.all, second.own),
    allFailed: joined(first.ownFailed, second.allFailed, second.ownFailed),
    allWeight: joined(first.ownWeight, second.allWeight, second.ownWeight),
  };
}

/** The same risk sets with all members as one side and all others as the other: no pack is in one test twice. */
export function twoSides({ ages, all, ...columns }: CountedStratum, members: readonly number[]): TwoSides {
  const own = (counted: Counted) => {
    const [only, second] = members;
    const its = only === undefined ? undefined : columns[counted][only];
    return its !== undefined && second === undefined
      ? its
      : summed(
          members.flatMap((g) => columns[counted][g] ?? []),
          ages.length,
        );
  };
  return {
    ages,
    own: own("atRisk"),
    all: all.atRisk,
    ownFailed: own("failed"),
    allFailed: all.failed,
    ownWeight: own("failedWeight"),
    allWeight: all.failedWeight,
  };
}

function summed(columns: readonly Float64Array[], length: number): Float64Array {
  const sum = new Float64Array(length);
  for (const column of columns) for (let i = 0; i < length; i++) sum[i] = (sum[i] ?? 0) + (column[i] ?? 0);
  return sum;
}
