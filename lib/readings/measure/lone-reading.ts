import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/**
 * Whether one reading of a group beyond a limit is more than a bad frame: the pack voltage moved with it. Where none was
 * logged, the neighbours must not have moved the other way in its stead, and the rows must lie so far apart that no more than one
 * could show it. Where all groups moved alike, the pack voltage must have gone with them. Where no sound row lies before it, as in the
 * first row of a log or after cut frames, it is held against the rows after.
 */
export function isBorneOut(survey: RowSurvey, index: number, row: number, side: "below" | "above"): boolean {
  const { log, referenceV, medianIntervalS } = survey;
  const { sparseS, loneStandsV, lonePackShare, loneNeighbourShare } = survey.gates;
  const column = log.cellVoltagesV[index];
  const sparse = medianIntervalS >= sparseS;
  const earlier = soundRowNear(survey, index, row, -1);
  const before = earlier < 0 ? soundRowNear(survey, index, row, 1) : earlier;
  if (column === undefined || before < 0) return sparse;
  if (earlier < 0 && Math.abs((column[before] ?? 0) - (column[row] ?? 0)) <= loneStandsV) return sparse;
  const towards = side === "below" ? -1 : 1;
  const moved = (of: Float64Array | undefined) => towards * ((of?.[row] ?? Number.NaN) - (of?.[before] ?? Number.NaN));
  const commonV = moved(referenceV);
  const ownV = moved(column) - commonV;
  const packV = moved(log.packVoltageV);
  const alike = ownV < commonV;
  if (Number.isFinite(packV + commonV)) {
    const commonOfPackV = survey.groups * commonV;
    return alike ? packV >= lonePackShare * commonOfPackV : packV - commonOfPackV >= lonePackShare * ownV;
  }
  if (alike) return sparse;
  const given = [index - 1, index + 1].map((at) => commonV - moved(log.cellVoltagesV[at]) || 0);
  return Math.max(...given) <= loneNeighbourShare * ownV && sparse;
}

/** The nearest row before or after; -1 where the group has no sensible reading in the few rows there. */
function soundRowNear(survey: RowSurvey, index: number, row: number, towards: -1 | 1): number {
  const column = survey.log.cellVoltagesV[index];
  const [low, high] = survey.gates.cellPlausibleV;
  for (let apart = 1; apart <= survey.gates.loneRows; apart += 1) {
    const at = row + towards * apart;
    const volt = column?.[at] ?? Number.NaN;
    if (survey.log.segment[at] === survey.log.segment[row] && volt >= low && volt <= high) return at;
  }
  return -1;
}
