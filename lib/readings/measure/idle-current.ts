import { median } from "@/lib/readings/measure/median";
import { type OpenCircuitCurve, socAtVoltage, voltageAtSoc } from "@/lib/readings/measure/open-circuit";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface IdleCurrent {
  /** Mean of what the sensor reads, A. */
  readonly currentA: number;
  readonly hours: number;
  /** What that would have moved the group in the middle by, and what it did move by, V. */
  readonly wouldMoveV: number;
  readonly movedV: number;
}

/** Multiple of the current of a rest up to which a steady current may be a sensor's zero, and rows at both ends whose median stands for a voltage. Engineering defaults. */
const gateTimes = 3;
const rowsAtEnds = 15;
/** Multiple of what relaxation and warmth move a group by that the current must have moved it by. Engineering default. */
const wouldMoveTimes = 3;

/**
 * A small current through hours in which the group in the middle stays where it is: nothing flowed, and the sensor reads its zero. Found also where that
 * lies at the limit of a rest, so that the log seems never to rest. The longest such stretch; null where none lasts, or where the curve is so flat that
 * the charge might have flowed unseen.
 */
export function idleCurrent(survey: RowSurvey, curve: OpenCircuitCurve | null): IdleCurrent | null {
  const { log, gates, ratedCapacityAh, referenceV } = survey;
  if (curve === null) return null;
  const mostA = gateTimes * gates.restCurrentPerHour * ratedCapacityAh;
  let best: IdleCurrent | null = null;
  let start = 0;
  for (let row = 0; row <= log.rows; row += 1) {
    const idle = row < log.rows && Math.abs(log.currentA[row] ?? Number.NaN) <= mostA;
    if (idle && (row === 0 || log.segment[row] === log.segment[row - 1])) continue;
    const found = stretchOf(start, row - 1);
    if (found !== null && (best === null || found.hours > best.hours)) best = found;
    start = idle ? row : row + 1;
  }
  return best;

  function stretchOf(fromRow: number, toRow: number): IdleCurrent | null {
    const settlesS = (log.timeS[fromRow] ?? 0) + gates.drawSettlesS;
    let from = fromRow;
    while (from < toRow && (log.timeS[from] ?? 0) < settlesS) from += 1;
    const lastsS = (log.timeS[toRow] ?? 0) - (log.timeS[from] ?? 0);
    if (!(lastsS >= gates.drawLeastS) || toRow - from < 2 * rowsAtEnds || curve === null) return null;
    let asMs = 0;
    for (let row = from + 1; row <= toRow; row += 1)
      asMs += (log.currentA[row] ?? 0) * ((log.timeS[row] ?? 0) - (log.timeS[row - 1] ?? 0));
    const level = (first: number) => median(Array.from(referenceV.subarray(first, first + rowsAtEnds))) ?? Number.NaN;
    const [beforeV, afterV] = [level(from), level(toRow - rowsAtEnds + 1)];
    const percent = (100 * asMs) / 3600 / ratedCapacityAh;
    const stands = socAtVoltage(curve, beforeV);
    const wouldMoveV = Math.min(
      ...[percent, -percent].map((by) => Math.abs(voltageAtSoc(curve, stands + by) - voltageAtSoc(curve, stands))),
    );
    const movedV = Math.abs(afterV - beforeV);
    if (!(movedV <= gates.drawMovedV) || wouldMoveV < wouldMoveTimes * gates.drawMovedV) return null;
    return { currentA: asMs / lastsS, hours: lastsS / 3600, wouldMoveV, movedV };
  }
}
