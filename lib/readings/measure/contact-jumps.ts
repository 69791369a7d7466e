import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Engineering defaults: load looked at (share of rated capacity per h), steadiness of it, and size of a jump. */
const loadPerHour = 0.3;
const steadyShare = 0.2;
const jumpShare = 0.4;

export interface ContactJumps {
  readonly jumps: number;
  /** Rows at steady load in which a jump would have shown. */
  readonly rowsJudged: number;
}

/**
 * Jumps of a group's excess voltage at steady load, each at least 40 % of what its excess resistance takes: a contact
 * that opens and closes. Polarisation of a cell moves too, but never that far from one row to the next at steady load.
 */
export function contactJumps(survey: RowSurvey, group: number, excessOhm: number, noiseV: number): ContactJumps {
  const column = survey.log.cellVoltagesV[group - 1];
  const { currentA } = survey.log;
  let jumps = 0;
  let rowsJudged = 0;
  if (column === undefined) return { jumps, rowsJudged };
  for (let row = 1; row < survey.log.rows; row += 1) {
    const now = currentA[row] ?? Number.NaN;
    const before = currentA[row - 1] ?? Number.NaN;
    const load = Math.min(Math.abs(now), Math.abs(before));
    if (!(load >= loadPerHour * survey.ratedCapacityAh) || !((survey.intervalS[row] ?? 0) > 0)) continue;
    if (!(Math.abs(now - before) <= steadyShare * load)) continue;
    const least = Math.max(jumpShare * excessOhm * load, 6 * noiseV);
    const was = (column[row - 1] ?? Number.NaN) - (survey.referenceV[row - 1] ?? Number.NaN);
    const is = (column[row] ?? Number.NaN) - (survey.referenceV[row] ?? Number.NaN);
    if (!Number.isFinite(is + was)) continue;
    rowsJudged += 1;
    if (Math.abs(is - was - excessOhm * (now - before)) >= least) jumps += 1;
  }
  return { jumps, rowsJudged };
}
