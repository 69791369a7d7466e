import { type OpenCircuitCurve, slopeAtSoc, socAtVoltage } from "@/lib/readings/measure/open-circuit";
import { restCurrentOffset } from "@/lib/readings/measure/rest-current-offset";
import { restPeriods } from "@/lib/readings/measure/rest-periods";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { oncePer } from "@/lib/readings/once-per";

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

/** Engineering defaults: V of a rest voltage, share of rated capacity by which a current sensor that no rest shows is off, and the loop needed. */
const restV = 0.004;
const offsetShare = 0.001;
const leastChargedShare = 0.2;
const closedPercent = 10;

/**
 * Coulombic efficiency of a nearly closed loop: two rests at nearly the same open-circuit voltage with a discharge and a
 * charge between them, η = (Ah out + stored change) / Ah in. What is counted is the charge of the survey: nothing while the pack
 * rests, and through a row or two without a current. Gain errors of the current sensor cancel; its offset, as the rests show it, is taken
 * off, and what is left of it and the rest voltages make the error. The loop with the smallest error is taken; `null` where there is none.
 *
 * A value outside 0.97 to 1.01 speaks of the sensor before it speaks of chemistry (engineering default).
 */
export function coulombicEfficiency(survey: RowSurvey, curve: OpenCircuitCurve): CoulombicEfficiency | null {
  return loopOf(survey)(curve);
}

const loopOf = oncePer((survey: RowSurvey) => oncePer((curve: OpenCircuitCurve) => bestLoop(survey, curve)));

function bestLoop(survey: RowSurvey, curve: OpenCircuitCurve): CoulombicEfficiency | null {
  const rests = restPeriods(survey, survey.gates.restForOpenCircuitS);
  const rated = survey.ratedCapacityAh;
  // Each row is added up once: a long log holds so many pairs of rests that going through its rows for each takes seconds.
  const offset = sensorOffset(survey);
  const legs = rests.map((rest, place) =>
    chargeBetween(survey, rests[place - 1]?.endRow ?? rest.endRow, rest.endRow, offset.offsetA),
  );
  let best: CoulombicEfficiency | null = null;
  for (const [place, from] of rests.entries()) {
    const soc = socAtVoltage(curve, from.referenceV);
    let chargedAh = 0;
    let dischargedAh = 0;
    let countedH = 0;
    for (let later = place + 1; later < rests.length; later += 1) {
      const to = rests[later];
      if (to === undefined || to.stretch !== from.stretch) break;
      chargedAh += legs[later]?.chargedAh ?? 0;
      dischargedAh += legs[later]?.dischargedAh ?? 0;
      countedH += legs[later]?.countedH ?? 0;
      const storedPercent = socAtVoltage(curve, to.referenceV) - soc;
      if (!(Math.abs(storedPercent) <= closedPercent)) continue;
      if (chargedAh < leastChargedShare * rated || dischargedAh < leastChargedShare * rated) continue;
      const slopes = [slopeAtSoc(curve, soc), slopeAtSoc(curve, soc + storedPercent)];
      const storedError = Math.hypot(...slopes.map((slope) => restV / Math.max(slope, 0.0005)));
      const error = Math.hypot((storedError / 100) * rated, offset.errorA * countedH) / chargedAh;
      if (best !== null && error >= best.error) continue;
      const efficiency = (dischargedAh + (storedPercent / 100) * rated) / chargedAh;
      best = { efficiency, error, chargedAh, dischargedAh, storedPercent, fromRow: from.endRow, toRow: to.endRow };
    }
  }
  return best;
}

/** What the sensor reads while nothing flows. Where a current truly flowed in a rest, its rests tell nothing of that. */
function sensorOffset(survey: RowSurvey): { readonly offsetA: number; readonly errorA: number } {
  const unknown = { offsetA: 0, errorA: offsetShare * survey.ratedCapacityAh };
  const found = survey.standingDraws.length > 0 ? null : restCurrentOffset(survey);
  return found === null ? unknown : { offsetA: found.offsetA, errorA: found.errorA ?? unknown.errorA };
}

function chargeBetween({ log, chargeAh }: RowSurvey, fromRow: number, toRow: number, offsetA: number) {
  let chargedAh = 0;
  let dischargedAh = 0;
  let countedH = 0;
  let known = fromRow;
  for (let row = fromRow + 1; row <= toRow; row += 1) {
    if (!Number.isFinite(log.currentA[row] ?? Number.NaN)) continue;
    const logged = (chargeAh[row] ?? 0) - (chargeAh[known] ?? 0);
    const hours = ((log.timeS[row] ?? 0) - (log.timeS[known] ?? 0)) / 3600;
    known = row;
    if (logged === 0) continue;
    const moved = logged - offsetA * hours;
    countedH += hours;
    if (moved > 0) chargedAh += moved;
    else dischargedAh -= moved;
  }
  return { chargedAh, dischargedAh, countedH };
}
