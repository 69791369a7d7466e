import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** V, and V below the median group: above both a group is still up; what is emptied passes them on the way down. Engineering defaults. */
const emptiedBelowV = 1.5;
const behindV = 0.5;
/** Share of rated capacity that flows out, and s it takes at least, while a load empties a group from there. Engineering defaults. */
const leastShareOut = 0.01;
const emptyingS = 300;
/** s, and readings on the way, of a fall that no collapse takes: an inner short is over within minutes. Engineering defaults. */
const slowFallS = 1800;
const readingsOnTheWay = 10;

/**
 * Whether a group that gives no sensible value at `row` was emptied rather than lost: it sank for minutes while charge
 * flowed out of it, or so slowly, reading by reading, as only a drain does. A group that is shorted or torn off loses its
 * volts faster, and without charge. In doubt it was lost.
 */
export function wasDrained(survey: RowSurvey, group: number, row: number): boolean {
  const { log, referenceV, chargeAh, stretch, ratedCapacityAh } = survey;
  const column = log.cellVoltagesV[group - 1];
  if (column === undefined) return false;
  let readings = 0;
  for (let at = row - 1; at >= 0 && log.segment[at] === log.segment[row]; at -= 1) {
    const volt = column[at] ?? Number.NaN;
    const up = volt >= emptiedBelowV && volt >= (referenceV[at] ?? 0) - behindV;
    if (!up) {
      if (volt > 0) readings += 1;
      continue;
    }
    const outAh = stretch[at] === stretch[row] ? (chargeAh[at] ?? 0) - (chargeAh[row] ?? 0) : 0;
    const tookS = (log.timeS[row] ?? 0) - (log.timeS[at] ?? 0);
    const emptied = tookS >= emptyingS && outAh >= leastShareOut * ratedCapacityAh;
    return emptied || (tookS >= slowFallS && readings >= readingsOnTheWay);
  }
  return false;
}
