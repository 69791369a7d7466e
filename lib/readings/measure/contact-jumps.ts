import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Engineering defaults: load looked at (share of rated capacity per h), steadiness of it, and size of a jump. */
const loadPerHour = 0.3;
const steadyShare = 0.2;
const jumpShare = 0.45;
/** V. Noise never taken smaller: one step of the resolution on either side. */
const leastNoiseV = 0.0015;

export interface ContactJumps {
  readonly jumps: number;
  /** Rows at steady load in which a jump would have shown. */
  readonly rowsJudged: number;
}

/**
 * Jumps of a group's excess voltage at steady load, each at least 45 % of what its excess resistance takes: a contact
 * that opens and closes. Polarisation of a cell moves too, but never that far from one row to the next at steady load.
 */
export function contactJumps(survey: RowSurvey, group: number, excessOhm: number, noiseV: number): ContactJumps {
  const column = survey.log.cellVoltagesV[group - 1];
  const { currentA } = survey.log;
  let jumps = 0;
  let rowsJudged = 0;
  if (column === undefined) return { jumps, rowsJudged };
  for (let row = 2; row < survey.log.rows; row += 1) {
    const now = currentA[row] ?? Number.NaN;
    const before = currentA[row - 1] ?? Number.NaN;
    const load = Math.min(Math.abs(now), Math.abs(before));
    if (!(load >= loadPerHour * survey.ratedCapacityAh) || !((survey.intervalS[row] ?? 0) > 0)) continue;
    // Steady over two steps: right after a load step the fast polarisation of a cell is still on its way.
    const earlier = currentA[row - 2] ?? Number.NaN;
    if (!(Math.abs(now - before) <= steadyShare * load && Math.abs(before - earlier) <= steadyShare * load)) continue;
    const least = jumpShare * excessOhm * load;
    // Where a jump would drown in noise the row cannot tell.
    if (least < 6 * Math.max(noiseV, leastNoiseV)) continue;
    const was = (column[row - 1] ?? Number.NaN) - (survey.referenceV[row - 1] ?? Number.NaN);
    const is = (column[row] ?? Number.NaN) - (survey.referenceV[row] ?? Number.NaN);
    if (!Number.isFinite(is + was)) continue;
    rowsJudged += 1;
    if (Math.abs(is - was - excessOhm * (now - before)) >= least) jumps += 1;
  }
  return { jumps, rowsJudged };
}
