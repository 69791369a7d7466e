import type { LifeCount } from "@/lib/stats/life-counts";
import { LifeTally } from "@/lib/stats/life-tally";
import type { ExclusionReason, ExposureStatus, ReturnOutcome } from "./exposure";
import { belongsTo } from "./mixed-lots";

/** What the event of a line is: a failure that the bench confirmed, or the first return of any kind. */
export type Line = "confirmed" | "any-return";

/**
 * So many packs of one group with the same life. A list of these is all that the estimates, comparisons, forecasts and
 * signals need, so that their cost follows the number of distinct ages and not of packs.
 */
export interface LifeCell {
  readonly line: Line;
  readonly group: string;
  /** Whose delay it is weighed by: see `placeOf`. */
  readonly place?: string;
  /** What is compared only with its own kind: the model, and the country where that was asked for. */
  readonly stratum: string;
  readonly dispatched: boolean;
  readonly entryDays: number;
  readonly exitDays: number;
  /** Days from the end of the life to the data date; `MOST_SLACK_DAYS` stands for that many or more. */
  readonly slackDays: number;
  readonly status: ExposureStatus | "returned";
  /** Of a failure the fault that was found; of a first return what came of it; else null. */
  readonly detail: string | null;
  readonly packs: number;
}

/** So many packs of one group that have no life to count, and why. */
export interface ExcludedCell {
  readonly group: string;
  readonly stratum: string;
  readonly dispatched: boolean;
  readonly reason: ExclusionReason;
  /** Days since dispatch of packs not known to be sold; null for others and for packs not dispatched by the data date. */
  readonly daysSinceDispatch: number | null;
  readonly packs: number;
}

export interface LifeTable {
  /** Groups are lots, and a pack of two of them stands under both: see `belongsTo`. Missing means no. */
  readonly hasPairs?: boolean;
  readonly cells: readonly LifeCell[];
  readonly excluded: readonly ExcludedCell[];
}

/** A report that comes later than this is not waited for. Engineering default, no authority: a quarter of a year. */
export const MOST_SLACK_DAYS = 92;

/** The cells of one group. */
export function cellsOfGroup(table: LifeTable, group: string): LifeTable {
  return {
    cells: table.cells.filter((cell) => belongsTo(table, cell.group, group)),
    excluded: table.excluded.filter((cell) => belongsTo(table, cell.group, group)),
  };
}

export function cellsByGroup<Cell extends { readonly group: string }>(cells: readonly Cell[]): Map<string, Cell[]> {
  return cellsBy(cells, ({ group }) => group);
}

function cellsBy<Cell>(cells: readonly Cell[], keyOf: (cell: Cell) => string): Map<string, Cell[]> {
  const byKey = new Map<string, Cell[]>();
  for (const cell of cells) {
    const known = byKey.get(keyOf(cell));
    if (known === undefined) byKey.set(keyOf(cell), [cell]);
    else known.push(cell);
  }
  return byKey;
}

/** Counts per age of the lives of one line; `isEvent` says which of their ends count as the event. */
export function countCells(
  cells: readonly LifeCell[],
  line: Line,
  isEvent: (cell: LifeCell) => boolean = endsInEvent,
): LifeCount[] {
  const tally = new LifeTally();
  for (const cell of cells) {
    if (cell.line === line) tally.add(cell.entryDays, cell.exitDays, isEvent(cell), cell.packs);
  }
  return tally.counts();
}

/** The same of each group by itself, and of each model. */
export function countCellsApart(cells: readonly LifeCell[], line: Line): LifeCount[][] {
  return [...cellsBy(cells, ({ group, stratum }) => JSON.stringify([group, stratum])).values()].map((some) =>
    countCells(some, line),
  );
}

/** The place whose delay a life is weighed by: where it names none its group is one, as dealers and countries are. */
export function placeOf({ place, group }: Pick<LifeCell, "place" | "group">): string {
  return place ?? group;
}

export function cellsByPlace(cells: readonly LifeCell[]): Map<string, LifeCell[]> {
  return cellsBy(cells, placeOf);
}

function endsInEvent({ status }: LifeCell): boolean {
  return status === "failed" || status === "returned";
}

export function sumPacks(cells: readonly { readonly packs: number }[]): number {
  return cells.reduce((sum, { packs }) => sum + packs, 0);
}

/** What came of a first return, for the cell of a line of all returns. */
export function outcomeOfCell({ detail }: LifeCell): ReturnOutcome {
  return detail === "confirmed" || detail === "not-confirmed" || detail === "unclassified" ? detail : "undecided";
}
