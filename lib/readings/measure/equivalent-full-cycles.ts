import { coulombCountAh } from "@/lib/readings/integrate";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { gapLimitS, silenceLimitS } from "@/lib/readings/time-gaps";

/**
 * Full cycles the logged charge amounts to: charge moved either way / (2 · rated capacity).
 *
 * A monitor's own cycle counter may count starts; this count is the fair basis for comparing use. Covers only what was
 * logged; gaps are not bridged, nor is a current that is silent for more than a row or two.
 */
export function equivalentFullCycles(log: ReadingLog, ratedCapacityAh: number): number {
  const { timeS, currentA, segment } = log;
  const gapS = gapLimitS(timeS, segment);
  const silenceS = silenceLimitS(timeS, currentA, segment, gapS);
  const counted = coulombCountAh(timeS, currentA, segment, gapS, undefined, silenceS);
  return (counted.chargedAh + counted.dischargedAh) / (2 * ratedCapacityAh);
}
