import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { silenceLimitS } from "@/lib/readings/time-gaps";

export interface EnergyThroughput {
  readonly chargedWh: number;
  readonly dischargedWh: number;
  /** Share of the energy that lies in steps between rows that differ by more than half: how coarse the sampling was. */
  readonly coarseShare: number;
  /** Whether the pack voltage was logged; else the sum of the groups stands for it. */
  readonly from: "pack voltage" | "sum of groups";
}

/** Share of a step's current by which its two rows may differ before the step counts as coarse. Engineering default. */
const coarse = 0.5;

/**
 * Energy through the terminals, Wh: trapezoid of V · I over the usable intervals; gaps are not bridged, rows that lack one of
 * the two are where no more than one or two do. `null` where no row has both a voltage and a current.
 */
export function energyThroughput({ log, sumV, gapS }: RowSurvey): EnergyThroughput | null {
  const packLogged = log.packVoltageV.some((volt) => volt > 0);
  const volts = packLogged ? log.packVoltageV : sumV;
  let chargedJ = 0;
  let dischargedJ = 0;
  let coarseJ = 0;
  let counted = 0;
  const silenceS = silenceLimitS(log.timeS, log.currentA, log.segment, gapS);
  let last = -1;
  for (let row = 0; row < log.rows; row += 1) {
    const now = log.currentA[row] ?? Number.NaN;
    const watt = (volts[row] ?? Number.NaN) * now;
    if (!Number.isFinite(watt)) continue;
    counted += 1;
    const from = last;
    last = row;
    const seconds = from < 0 ? 0 : (log.timeS[row] ?? 0) - (log.timeS[from] ?? 0);
    if (from < 0 || seconds > (row - from > 1 ? silenceS : gapS) || log.segment[row] !== log.segment[from]) continue;
    const before = log.currentA[from] ?? Number.NaN;
    const joule = (((volts[from] ?? 0) * before + watt) / 2) * seconds;
    if (joule > 0) chargedJ += joule;
    else dischargedJ -= joule;
    if (Math.abs(now - before) > coarse * Math.max(Math.abs(now), Math.abs(before))) coarseJ += Math.abs(joule);
  }
  const total = chargedJ + dischargedJ;
  if (counted === 0) return null;
  return {
    chargedWh: chargedJ / 3600,
    dischargedWh: dischargedJ / 3600,
    coarseShare: total > 0 ? coarseJ / total : 0,
    from: packLogged ? "pack voltage" : "sum of groups",
  };
}
