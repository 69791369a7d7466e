import { coulombCountAh } from "@/lib/readings/integrate";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { gapLimitS } from "@/lib/readings/time-gaps";

/**
 * Full cycles the logged charge amounts to: charge moved either way / (2 · rated capacity).
 *
 * A monitor's own cycle counter may count starts; this count is the fair basis for comparing use. Covers only what was
 * logged; gaps are not bridged.
 */
export function equivalentFullCycles(log: ReadingLog, ratedCapacityAh: number): number {
  const counted = coulombCountAh(log.timeS, log.currentA, log.segment, gapLimitS(log.timeS, log.segment));
  return (counted.chargedAh + counted.dischargedAh) / (2 * ratedCapacityAh);
}
