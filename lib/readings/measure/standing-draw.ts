import { median } from "@/lib/readings/measure/median";
import { type OpenCircuitCurve, socAtVoltage } from "@/lib/readings/measure/open-circuit";
import { meanCurrentA } from "@/lib/readings/measure/rest-current-offset";
import { type RestPeriod, restPeriods } from "@/lib/readings/measure/rest-periods";
import type { RowSurvey, StandingDraw } from "@/lib/readings/measure/row-survey";

/** Rows whose median stands for a voltage. */
const rowsRead = 15;
/**
 * Small currents at rest are the sensor's own offset or a true draw, and only the voltages tell them apart: a true one moves the whole
 * pack along its open-circuit curve. Where it does, its charge is counted and the rest is no longer one in which a leak may be looked for:
 * a smaller group falls faster under a common draw.
 */
export function withStandingDraws(survey: RowSurvey, curve: OpenCircuitCurve | null): RowSurvey {
  if (curve === null) return survey;
  const standingDraws = restPeriods(survey, survey.gates.drawSettlesS + survey.gates.drawLeastS).flatMap((rest) =>
    drawOf(survey, curve, rest),
  );
  return standingDraws.length === 0
    ? survey
    : { ...survey, standingDraws, chargeAh: countedThrough(survey, standingDraws) };
}

function drawOf(survey: RowSurvey, curve: OpenCircuitCurve, rest: RestPeriod): StandingDraw[] {
  const { log, referenceV, gates } = survey;
  const { endRow } = rest;
  const endS = log.timeS[endRow] ?? 0;
  const startS = endS - rest.restedS + gates.drawSettlesS;
  let fromRow = rest.startRow;
  while (fromRow < endRow && (log.timeS[fromRow] ?? 0) < startS) fromRow += 1;
  const seconds = endS - (log.timeS[fromRow] ?? 0);
  const startV = median(referenceV.subarray(fromRow, Math.min(endRow, fromRow + rowsRead)));
  if (startV === null || seconds < gates.drawLeastS) return [];
  const moved = socAtVoltage(curve, rest.referenceV) - socAtVoltage(curve, startV);
  if (Math.abs(rest.referenceV - startV) < gates.drawMovedV || Math.abs(moved) < gates.drawMovedPercent) return [];
  const currentA = meanCurrentA(log.currentA.subarray(fromRow, endRow + 1));
  const days = seconds / 86_400;
  const share = moved / chargePercent(survey, currentA, days);
  const isCounted =
    share >= gates.drawBornOut[0] && share <= gates.drawBornOut[1] && isSteady(survey, curve, rest, fromRow, startV);
  // Groups that a balancer bleeds fall as well, and their current passes no sensor.
  const isBled = log.balancingMask?.subarray(fromRow, endRow + 1).some((mask) => mask > 0) === true;
  const isUnlogged = seconds >= gates.unloggedDrawS && moved / days <= -gates.unloggedDrawPercentPerDay && !isBled;
  if (!isCounted && !isUnlogged) return [];
  return [
    { startRow: rest.startRow, endRow, currentA: isCounted ? currentA : null, days, percentPerDay: moved / days },
  ];
}

function chargePercent({ ratedCapacityAh }: RowSurvey, currentA: number | null, days: number): number {
  return ((currentA ?? 0) * days * 24 * 100) / ratedCapacityAh;
}

/** Whether the median group goes on moving in the second half of the settled rest as the current counted there asks. */
function isSteady(
  survey: RowSurvey,
  curve: OpenCircuitCurve,
  { endRow, referenceV: endV }: RestPeriod,
  fromRow: number,
  startV: number,
): boolean {
  const { log, referenceV } = survey;
  const startS = log.timeS[fromRow] ?? 0;
  const endS = log.timeS[endRow] ?? 0;
  let middleRow = fromRow;
  while (middleRow < endRow && (log.timeS[middleRow] ?? 0) < (startS + endS) / 2) middleRow += 1;
  const middleV = median(
    referenceV.subarray(Math.max(fromRow, middleRow - rowsRead), Math.min(endRow, middleRow + rowsRead)),
  );
  if (middleV === null) return false;
  const pace = (first: number, last: number, firstRow: number, lastRow: number) => {
    const days = ((log.timeS[lastRow] ?? 0) - (log.timeS[firstRow] ?? 0)) / 86_400;
    const counted = chargePercent(survey, meanCurrentA(log.currentA.subarray(firstRow, lastRow + 1)), days);
    return (socAtVoltage(curve, last) - socAtVoltage(curve, first)) / counted;
  };
  return (
    pace(middleV, endV, middleRow, endRow) >= survey.gates.drawSteadyShare * pace(startV, middleV, fromRow, middleRow)
  );
}

/** The count of charge with what flowed during these rests; gaps within them are bridged, for the voltages speak for them as well. */
function countedThrough({ log, chargeAh, stretch }: RowSurvey, draws: readonly StandingDraw[]): Float64Array {
  const counted = chargeAh.slice();
  let more = 0;
  let place = 0;
  for (let row = 1; row < log.rows; row += 1) {
    if (stretch[row] !== stretch[row - 1]) more = 0;
    while (place < draws.length && (draws[place]?.endRow ?? 0) < row) place += 1;
    const draw = draws[place];
    if (draw !== undefined && draw.currentA !== null && row > draw.startRow) {
      const mean = ((log.currentA[row - 1] ?? Number.NaN) + (log.currentA[row] ?? Number.NaN)) / 2;
      const seconds = (log.timeS[row] ?? 0) - (log.timeS[row - 1] ?? 0);
      more += ((Number.isFinite(mean) ? mean : draw.currentA) * seconds) / 3600;
    }
    counted[row] = (counted[row] ?? 0) + more;
  }
  return counted;
}
