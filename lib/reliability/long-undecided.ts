import { type LifeCell, type LifeTable, sumPacks } from "./life-cell";

/**
 * A return undecided for longer than any delay that is waited for: no correction stands for it any more, so in every count it
 * has come to be no failure, although the gravest (set apart, held for a claim, an incident) wait longest.
 *
 * @param waitedDays from so many days after it was told on; what is settled by then (`settledAfterDays`).
 */
function isLongUndecided({ line, status, slackDays }: LifeCell, waitedDays: number): boolean {
  return line === "confirmed" && status === "undecided" && slackDays >= waitedDays;
}

export function countLongUndecided(cells: readonly LifeCell[], waitedDays: number): number {
  return sumPacks(cells.filter((cell) => isLongUndecided(cell, waitedDays)));
}

function takenAsFailure(cell: LifeCell): LifeCell {
  return { ...cell, status: "failed", detail: null };
}

/** One other case: the same lives, were all those returns confirmed failures, told on the days they were told on. */
export function takenAsFailures(cells: readonly LifeCell[], waitedDays: number): LifeCell[] {
  return cells.map((cell) => (isLongUndecided(cell, waitedDays) ? takenAsFailure(cell) : cell));
}

export function tableTakenAsFailures(table: LifeTable, waitedDays: number): LifeTable {
  return { ...table, cells: takenAsFailures(table.cells, waitedDays) };
}
