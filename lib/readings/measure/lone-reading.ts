import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Rows looked back over for the reading before. Engineering default. */
const rowsBack = 5;
/** Share of a group's own move that the pack voltage must show; share the neighbours may give back. Engineering defaults. */
const packShare = 0.5;
const neighbourShare = 0.5;
/** s between rows from which a single reading may be all there is of an event. Engineering default. */
export const sparseS = 10;

/**
 * Whether one reading of a group beyond a limit is more than a bad frame: the pack voltage moved with it. Where none was
 * logged, the neighbours must not have moved the other way in its stead, and the rows must lie so far apart that no more than one
 * could show it. Where all groups moved alike, the pack voltage must have gone with them.
 */
export function isBorneOut(survey: RowSurvey, index: number, row: number, side: "below" | "above"): boolean {
  const { log, referenceV, medianIntervalS } = survey;
  const column = log.cellVoltagesV[index];
  const before = lastSoundRow(survey, index, row);
  const sparse = medianIntervalS >= sparseS;
  if (column === undefined || before < 0) return sparse;
  const towards = side === "below" ? -1 : 1;
  const moved = (of: Float64Array | undefined) => towards * ((of?.[row] ?? Number.NaN) - (of?.[before] ?? Number.NaN));
  const commonV = moved(referenceV);
  const ownV = moved(column) - commonV;
  const packV = moved(log.packVoltageV);
  const alike = ownV < commonV;
  if (Number.isFinite(packV + commonV)) {
    const commonOfPackV = survey.groups * commonV;
    return alike ? packV >= packShare * commonOfPackV : packV - commonOfPackV >= packShare * ownV;
  }
  if (alike) return sparse;
  const given = [index - 1, index + 1].map((at) => commonV - moved(log.cellVoltagesV[at]) || 0);
  return Math.max(...given) <= neighbourShare * ownV && sparse;
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
