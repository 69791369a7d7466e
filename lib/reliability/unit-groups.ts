import type { LifeCount, LifeProblem } from "@/lib/stats/life-counts";
import { LifeTally } from "@/lib/stats/life-tally";
import type { UnitRowReading } from "./unit-row";

/** Lines named of each kind of refusal; beyond them only their number is kept, so that a bad file cannot fill memory. */
const LINES_NAMED = 5;

export interface Refusal {
  readonly rows: number;
  /** The first few of them, counted from 1. */
  readonly lines: readonly number[];
}

export interface UnitGroup {
  readonly group: string;
  readonly counts: readonly LifeCount[];
  readonly refusals: ReadonlyMap<LifeProblem, Refusal>;
}

export interface UnitGroups {
  add(row: Extract<UnitRowReading, { kind: "unit" | "refused" }>, line: number): void;
  /** The groups in the order in which the file first names them. */
  finish(): UnitGroup[];
}

/** Counts the rows of a units file group by group while it streams by. */
export function createUnitGroups(): UnitGroups {
  const groups = new Map<string, { lives: LifeTally; refusals: Map<LifeProblem, { rows: number; lines: number[] }> }>();

  return {
    add(row, line) {
      let group = groups.get(row.group);
      if (group === undefined) {
        group = { lives: new LifeTally(), refusals: new Map() };
        groups.set(row.group, group);
      }
      if (row.kind === "unit") {
        group.lives.add(row.entryAge, row.exitAge, row.failed);
        return;
      }
      const refusal = group.refusals.get(row.problem) ?? { rows: 0, lines: [] };
      refusal.rows += 1;
      if (refusal.lines.length < LINES_NAMED) refusal.lines.push(line);
      group.refusals.set(row.problem, refusal);
    },
    finish() {
      return [...groups].map(([group, { lives, refusals }]) => ({ group, counts: lives.counts(), refusals }));
    },
  };
}
