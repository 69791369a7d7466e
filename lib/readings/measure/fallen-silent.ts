import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Groups that give no sensible value from a row to the end of the log, while something else of the pack still reads. */
export interface FallenSilent {
  readonly groups: readonly number[];
  /** First row of the silence. */
  readonly fromRow: number;
  readonly overS: number;
}

/** Rows and s of silence where the log ends before it is one: a frame or two are lost anywhere. Engineering defaults. */
const leastRows = 5;
const leastS = 60;
/**
 * What falls silent and stays so. A group that never gave a sensible value is not among them; nor are groups where the whole
 * board sleeps, no current and no pack voltage beside them. From the end backwards: O(rows of the silence) for each group.
 */
export function fallenSilent(survey: RowSurvey): FallenSilent[] {
  const { log, gates } = survey;
  const [low, high] = gates.cellPlausibleV;
  const lastRow = lastAwake(survey);
  const byRow = new Map<number, number[]>();
  for (const [index, column] of log.cellVoltagesV.entries()) {
    let row = lastRow;
    while (row >= 0 && !((column[row] ?? Number.NaN) >= low && (column[row] ?? Number.NaN) <= high)) row -= 1;
    const overS = (log.timeS[lastRow] ?? 0) - (log.timeS[row + 1] ?? 0);
    if (row < 0 || lastRow - row < leastRows || overS < leastS) continue;
    byRow.set(row + 1, [...(byRow.get(row + 1) ?? []), index + 1]);
  }
  return [...byRow].map(([fromRow, groups]) => ({
    groups,
    fromRow,
    overS: (log.timeS[lastRow] ?? 0) - (log.timeS[fromRow] ?? 0),
  }));
}

/** Last row in which a group, a current or the pack voltage is read. */
function lastAwake({ log, plausibleGroups, gates, groups }: RowSurvey): number {
  const leastPackV = groups * gates.cellPlausibleV[0];
  let row = log.rows - 1;
  while (row >= 0) {
    const current = log.currentA[row] ?? Number.NaN;
    const isRead = Number.isFinite(current) && current !== 0;
    if ((plausibleGroups[row] ?? 0) > 0 || isRead || (log.packVoltageV[row] ?? Number.NaN) > leastPackV) return row;
    row -= 1;
  }
  return row;
}
