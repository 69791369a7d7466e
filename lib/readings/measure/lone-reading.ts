import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Rows looked back over for the reading before. Engineering default. */
const rowsBack = 5;
/** Share of a group's own fall that the pack voltage must show; share the neighbours may give back. Engineering defaults. */
const packShare = 0.5;
const neighbourShare = 0.5;
/** s between rows from which a single reading may be all there is of an event. Engineering default. */
export const sparseS = 10;

/**
 * Whether one low reading of a group is more than a bad frame: the pack voltage fell with it. Where none was logged,
 * the neighbours must not have risen in its stead, and the rows must lie so far apart that no more than one could show it.
 */
export function isBorneOut(survey: RowSurvey, index: number, row: number): boolean {
  const { log, referenceV, medianIntervalS } = survey;
  const column = log.cellVoltagesV[index];
  const before = lastSoundRow(survey, index, row);
  if (column === undefined || before < 0) return medianIntervalS >= sparseS;
  const commonV = (referenceV[before] ?? Number.NaN) - (referenceV[row] ?? Number.NaN);
  const ownV = (column[before] ?? Number.NaN) - (column[row] ?? Number.NaN) - commonV;
  const packV = (log.packVoltageV[before] ?? Number.NaN) - (log.packVoltageV[row] ?? Number.NaN);
  if (Number.isFinite(packV + commonV)) return packV - survey.groups * commonV >= packShare * ownV;
  const given = [index - 1, index + 1].map((at) => {
    const neighbour = log.cellVoltagesV[at];
    return (neighbour?.[row] ?? Number.NaN) - (neighbour?.[before] ?? Number.NaN) + commonV || 0;
  });
  return Math.max(...given) <= neighbourShare * ownV && medianIntervalS >= sparseS;
}

/** -1 where the group has no sensible reading in the few rows before. */
function lastSoundRow(survey: RowSurvey, index: number, row: number): number {
  const column = survey.log.cellVoltagesV[index];
  const [low, high] = survey.gates.cellPlausibleV;
  for (let at = row - 1; at >= Math.max(0, row - rowsBack); at -= 1) {
    const volt = column?.[at] ?? Number.NaN;
    if (survey.log.segment[at] === survey.log.segment[row] && volt >= low && volt <= high) return at;
  }
  return -1;
}
