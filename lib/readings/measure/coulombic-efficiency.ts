import { type OpenCircuitCurve, slopeAtSoc, socAtVoltage } from "@/lib/readings/measure/open-circuit";
import { restPeriods } from "@/lib/readings/measure/rest-periods";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface CoulombicEfficiency {
  /** Charge taken out over charge put in, the change of what is stored taken off. 1 where nothing is lost. */
  readonly efficiency: number;
  readonly error: number;
  readonly chargedAh: number;
  readonly dischargedAh: number;
  /** Change of stored charge between the two rests, %. */
  readonly storedPercent: number;
  readonly fromRow: number;
  readonly toRow: number;
}

/** Engineering defaults: V of a rest voltage, share of rated capacity by which a current sensor is off, and the loop needed. */
const restV = 0.004;
const offsetShare = 0.001;
const leastChargedShare = 0.2;
const closedPercent = 10;

/**
 * Coulombic efficiency of a nearly closed loop: two rests at nearly the same open-circuit voltage with a discharge and a
 * charge between them, η = (Ah out + stored change) / Ah in. Gain errors of the current sensor cancel, its offset and the
 * rest voltages do not and make the error. The loop with the smallest error is taken; `null` where there is none.
 *
 * A value outside 0.97 to 1.01 speaks of the sensor before it speaks of chemistry (engineering default).
 */
export function coulombicEfficiency(survey: RowSurvey, curve: OpenCircuitCurve): CoulombicEfficiency | null {
  const rests = restPeriods(survey, survey.gates.restForOpenCircuitS);
  const rated = survey.ratedCapacityAh;
  // Each row is added up once: a long log holds so many pairs of rests that going through its rows for each takes seconds.
  const legs = rests.map((rest, place) => chargeBetween(survey, rests[place - 1]?.endRow ?? rest.endRow, rest.endRow));
  let best: CoulombicEfficiency | null = null;
  for (const [place, from] of rests.entries()) {
    const soc = socAtVoltage(curve, from.referenceV);
    let chargedAh = 0;
    let dischargedAh = 0;
    for (let later = place + 1; later < rests.length; later += 1) {
      const to = rests[later];
      if (to === undefined || to.stretch !== from.stretch) break;
      chargedAh += legs[later]?.chargedAh ?? 0;
      dischargedAh += legs[later]?.dischargedAh ?? 0;
      const storedPercent = socAtVoltage(curve, to.referenceV) - soc;
      if (!(Math.abs(storedPercent) <= closedPercent)) continue;
      if (chargedAh < leastChargedShare * rated || dischargedAh < leastChargedShare * rated) continue;
      const slopes = [slopeAtSoc(curve, soc), slopeAtSoc(curve, soc + storedPercent)];
      const storedError = Math.hypot(...slopes.map((slope) => restV / Math.max(slope, 0.0005)));
      const hours = ((survey.log.timeS[to.endRow] ?? 0) - (survey.log.timeS[from.endRow] ?? 0)) / 3600;
      const error = Math.hypot((storedError / 100) * rated, offsetShare * rated * hours) / chargedAh;
      if (best !== null && error >= best.error) continue;
      const efficiency = (dischargedAh + (storedPercent / 100) * rated) / chargedAh;
      best = { efficiency, error, chargedAh, dischargedAh, storedPercent, fromRow: from.endRow, toRow: to.endRow };
    }
  }
  return best;
}

function chargeBetween({ log, intervalS }: RowSurvey, fromRow: number, toRow: number) {
  let chargedAh = 0;
  let dischargedAh = 0;
  for (let row = fromRow + 1; row <= toRow; row += 1) {
    const mean = ((log.currentA[row - 1] ?? Number.NaN) + (log.currentA[row] ?? Number.NaN)) / 2;
    const moved = (mean * (intervalS[row] ?? 0)) / 3600;
    if (moved > 0) chargedAh += moved;
    else if (moved < 0) dischargedAh -= moved;
  }
  return { chargedAh, dischargedAh };
}
