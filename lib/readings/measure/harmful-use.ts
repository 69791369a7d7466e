import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { extremeInRow } from "@/lib/readings/measure/value-range";

/** What ages a pack without a limit being broken for long. */
export interface HarmfulUse {
  /** Ah charged while the coldest probe stood below the charge window. */
  readonly coldChargeAh: number;
  /** s with a probe above `hotC` while the median group was nearly full. */
  readonly hotAndFullS: number;
}

export interface HarmfulLimits {
  readonly chargeMinTemperatureC: number;
  readonly hotC: number;
  /** V of the median group at rest, and % of the pack's own counter, from which it is nearly full. */
  readonly fullV: number;
  readonly fullPercent: number;
}

/**
 * Charge in the cold and hours hot near full, by the probes given (those that are not at fault). Gaps of a sleeping logger are not
 * bridged, so both are the least that happened. `null` where no probe reads.
 */
export function harmfulUse(
  { log, gates, intervalS, restingS, referenceV }: RowSurvey,
  probes: readonly Float64Array[],
  limits: HarmfulLimits,
): HarmfulUse | null {
  if (!probes.some((probe) => probe.some(Number.isFinite))) return null;
  const believedC = gates.temperaturePlausibleC;
  let coldChargeAh = 0;
  let hotAndFullS = 0;
  for (let row = 0; row < log.rows; row += 1) {
    const seconds = intervalS[row] ?? 0;
    if (!(seconds > 0)) continue;
    const current = log.currentA[row] ?? Number.NaN;
    if (current > 0 && extremeInRow(probes, row, Math.min, believedC) < limits.chargeMinTemperatureC)
      coldChargeAh += (current * seconds) / 3600;
    const full =
      (log.socPercent?.[row] ?? Number.NaN) >= limits.fullPercent ||
      ((restingS[row] ?? -1) >= 0 && (referenceV[row] ?? Number.NaN) >= limits.fullV);
    if (full && extremeInRow(probes, row, Math.max, believedC) > limits.hotC) hotAndFullS += seconds;
  }
  return { coldChargeAh, hotAndFullS };
}
