import type { AbuseGates } from "@/lib/readings/measure/abuse-gates";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { rangeOf } from "@/lib/readings/measure/value-range";

/** Time a pack stood empty, s of the log's clock and in all. */
export interface EmptyStay {
  readonly firstS: number;
  readonly lastS: number;
  readonly totalS: number;
}

/**
 * The longest time during which the median group stays below the voltage that counts as empty for this model, or the pack's own counter
 * says so, at rest; gaps of a sleeping logger are part of it. Rows without either say nothing and end nothing. Where a current flows for a
 * moment, or the clock was set anew, and the pack stands afterwards where it stood, it stood on; what lies between two clocks is not
 * counted. `null` where it is shorter than the gates ask for.
 */
export function storedEmpty(survey: RowSurvey, gates: AbuseGates, emptyBelowV: number): EmptyStay | null {
  const { timeS, segment, socPercent } = survey.log;
  // Most packs were never empty: then no row has to be asked.
  const everEmpty =
    rangeOf(survey.referenceV).lowest <= emptyBelowV ||
    (socPercent !== null && rangeOf(socPercent).lowest <= gates.emptyPercent);
  if (!everEmpty && gates.emptyS > 0) return null;
  let best: EmptyStay = { firstS: 0, lastS: 0, totalS: 0 };
  let open: { firstS: number; sinceS: number; beforeS: number } | null = null;
  let lastV = Number.NaN;
  let lastRow = -1;
  for (let row = 0; row < survey.log.rows; row += 1) {
    const volt = survey.referenceV[row] ?? Number.NaN;
    const counted = socPercent?.[row] ?? Number.NaN;
    if ((!Number.isFinite(volt) && !Number.isFinite(counted)) || !((survey.restingS[row] ?? -1) >= 0)) continue;
    const time = timeS[row] ?? 0;
    const wasUsed = lastRow >= 0 && lastRow < row - 1 && Math.abs(volt - lastV) > survey.gates.parkedChangeV;
    const isNewClock = lastRow >= 0 && segment[row] !== segment[lastRow];
    if (!(volt <= emptyBelowV || counted <= gates.emptyPercent)) open = null;
    else if (open === null || wasUsed) open = { firstS: time, sinceS: time, beforeS: 0 };
    else if (isNewClock) {
      const stoodOn = Math.abs(volt - lastV) <= survey.gates.parkedChangeV;
      const beforeS: number = stoodOn ? open.beforeS + (timeS[lastRow] ?? 0) - open.sinceS : 0;
      open = { firstS: stoodOn ? open.firstS : time, sinceS: time, beforeS };
    }
    const totalS = open === null ? 0 : open.beforeS + time - open.sinceS;
    if (open !== null && totalS > best.totalS) best = { firstS: open.firstS, lastS: time, totalS };
    lastV = volt;
    lastRow = row;
  }
  return best.totalS < gates.emptyS ? null : best;
}
