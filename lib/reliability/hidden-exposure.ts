import type { LifeCell, Line } from "./life-cell";
import type { Reporting } from "./reporting";

/** Packs that passed this day of age without a known failure, each with the chance that one would not be known yet. */
export interface HiddenDay {
  /** The day of age ends here: it is the day from `ageDays - 1` to `ageDays`. */
  readonly ageDays: number;
  readonly packs: number;
}

/**
 * Answers: over which days of age may packs have failed without our knowing? A failure told `lag` days ago is unknown with
 * the chance 1 - shareKnown(lag). Counted over packs that run or whose cover ended lately; others' ends are known.
 */
export function hiddenDays(
  cells: readonly LifeCell[],
  { shareKnown, longestLagDays }: Reporting,
  asked: Line = "confirmed",
): HiddenDay[] {
  const byAge = new Map<number, number>();
  for (const { line, status, entryDays, exitDays, slackDays, packs } of cells) {
    if (line !== asked || (status !== "running" && status !== "cover-ended")) continue;
    for (let lag = slackDays; lag < longestLagDays; lag++) {
      const ageDays = exitDays - (lag - slackDays);
      if (ageDays <= entryDays) break;
      const hidden = packs * (1 - shareKnown(lag));
      if (hidden > 0) byAge.set(ageDays, (byAge.get(ageDays) ?? 0) + hidden);
    }
  }
  return [...byAge].map(([ageDays, packs]) => ({ ageDays, packs })).sort((a, b) => a.ageDays - b.ageDays);
}

/**
 * The lives as they were known `days` before the data date to whoever waited for late reports: what happened since is cut
 * off, so that hardly any failure before the cut is missing. Lives that began after it are left out. Domain: 0 to the
 * cells' `MOST_SLACK_DAYS`.
 */
export function cutBack(cells: readonly LifeCell[], days: number): LifeCell[] {
  const kept: LifeCell[] = [];
  for (const cell of cells) {
    const cut = cutCellBack(cell, days);
    if (cut !== null) kept.push(cut);
  }
  return kept;
}

/** The same of one; null where it began after the cut. */
export function cutCellBack(cell: LifeCell, days: number): LifeCell | null {
  if (cell.slackDays >= days) return cell;
  const exitDays = cell.exitDays + cell.slackDays - days;
  return exitDays > cell.entryDays ? { ...cell, exitDays, slackDays: days, status: "running", detail: null } : null;
}
