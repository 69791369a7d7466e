import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/**
 * Standard error of the charge counted between two rows that comes from their lying too far apart for the load, Ah. A row that holds one moment of a
 * load that changes faster than the rows follow stands for its interval by chance; two neighbours differ by the root of two times that scatter, so
 * each interval adds (ΔI)² / 2 · Δt² to the variance. An upper bound where the load changes more slowly, or the board averages between rows.
 * Seen: rides logged every 30 s lost a fifth of the charge that flowed.
 */
export function sampledChargeErrorAh({ log, intervalS }: RowSurvey, fromRow: number, toRow: number): number {
  let variance = 0;
  let before = log.currentA[fromRow] ?? Number.NaN;
  for (let row = fromRow + 1; row <= toRow; row += 1) {
    const now = log.currentA[row] ?? Number.NaN;
    if (!Number.isFinite(now)) continue;
    const square = ((now - before) * (intervalS[row] ?? 0)) ** 2;
    if (Number.isFinite(square)) variance += square / 2;
    before = now;
  }
  return Math.sqrt(variance) / 3600;
}
