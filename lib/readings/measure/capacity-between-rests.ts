import { differenceDoubt, type OpenCircuitCurve, slopeAtSoc, socAtVoltage } from "@/lib/readings/measure/open-circuit";
import { type RestPeriod, restPeriods } from "@/lib/readings/measure/rest-periods";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface CapacityBetweenRests {
  /** Per group, Ah; NaN where not plausible. */
  readonly capacityAh: Float64Array;
  readonly errorAh: Float64Array;
  readonly from: RestPeriod;
  readonly to: RestPeriod;
  readonly movedAh: number;
  /** Change of the median group's charge, %. */
  readonly windowPercent: number;
}

/** Engineering defaults: V of one rest voltage once relaxed, V more at half an hour of rest, A of current offset. */
const relaxedV = 0.002;
const unrelaxedV = 0.004;
const offsetShare = 0.002;

/**
 * Capacity of every group from the charge between two rests: Q_k = |ΔQ| / |ΔSoC_k|, the open-circuit curve giving SoC.
 *
 * The pair of rests with the widest window and no unknown use between them is taken; refused (`null`) under the window
 * of the gates. σ_Q/Q = sqrt((σ_I · t / ΔQ)² + ((σ_V/slope)₁² + (σ_V/slope)₂² + d₁² + d₂²) / ΔSoC²), d what the curve's
 * own doubt makes of a group's distance to the median group.
 */
export function capacityBetweenRests(survey: RowSurvey, curve: OpenCircuitCurve): CapacityBetweenRests | null {
  const rests = restPeriods(survey, survey.gates.restForOpenCircuitS);
  let best: { from: RestPeriod; to: RestPeriod; window: number } | null = null;
  for (const [place, from] of rests.entries()) {
    for (const to of rests.slice(place + 1)) {
      if (to.stretch !== from.stretch) break;
      const window = Math.abs(socAtVoltage(curve, to.referenceV) - socAtVoltage(curve, from.referenceV));
      if (window >= survey.gates.capacityWindowPercent && (best === null || window > best.window))
        best = { from, to, window };
    }
  }
  if (best === null) return null;
  const { from, to } = best;
  const movedAh = Math.abs(to.chargeAh - from.chargeAh);
  const hours = ((survey.log.timeS[to.endRow] ?? 0) - (survey.log.timeS[from.endRow] ?? 0)) / 3600;
  const counted = Math.min(hours, 24) * offsetShare * survey.ratedCapacityAh;
  const capacityAh = new Float64Array(survey.groups).fill(Number.NaN);
  const errorAh = new Float64Array(survey.groups).fill(Number.NaN);
  const usualStart = socAtVoltage(curve, from.referenceV);
  const usualEnd = socAtVoltage(curve, to.referenceV);
  for (let index = 0; index < survey.groups; index += 1) {
    const start = socAtVoltage(curve, from.groupV[index] ?? Number.NaN);
    const end = socAtVoltage(curve, to.groupV[index] ?? Number.NaN);
    const change = Math.abs(end - start);
    if (!(change > 10) || movedAh <= 0) continue;
    const error =
      Math.hypot(
        restError(curve, start, from.restedS),
        restError(curve, end, to.restedS),
        differenceDoubt(curve, start, usualStart),
        differenceDoubt(curve, end, usualEnd),
      ) / change;
    capacityAh[index] = (movedAh / change) * 100;
    errorAh[index] = (capacityAh[index] ?? 0) * Math.hypot(error, counted / movedAh);
  }
  return { capacityAh, errorAh, from, to, movedAh, windowPercent: best.window };
}

/** Standard uncertainty of a charge read from a rest voltage, %. */
export function restError(curve: OpenCircuitCurve, percent: number, restedS: number): number {
  const volt = relaxedV + unrelaxedV * Math.min(1, 1800 / restedS);
  return volt / Math.max(slopeAtSoc(curve, percent), 0.0005);
}
