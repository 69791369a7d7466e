export interface CountRange {
  readonly fromRow: number;
  /** Last row, included. */
  readonly toRow: number;
}

/** Net charge and what flowed each way, in Ah. Charging counts positive; `throughputAh` is the sum of both ways. */
export interface CountedCharge {
  readonly netAh: number;
  readonly chargedAh: number;
  readonly dischargedAh: number;
  /** Time integrated over, s. */
  readonly coveredS: number;
  /** Steps from one row with a current to the next that were left out because they were longer than `longestStepS`. */
  readonly stepsLeftOut: number;
}

/**
 * Charge through the pack, Ah.
 *
 * Method: trapezoid within a segment. Steps longer than `longestStepS` are left out, not bridged (pass Infinity to bridge every gap,
 * `gapLimitS` for the usual rule); so are steps across a change of segment. Rows without a current are passed over: the step goes from
 * the last row with one to the next, and is left out where it is longer than `longestSilenceS` (`silenceLimitS`) besides.
 * Sums are compensated (Neumaier 1974), so that a million small steps lose nothing.
 * Units: s, A (positive when charging), Ah. Domain: arrays of one length; time not decreasing within a segment is not required, so
 * that an unrepaired clock can be counted for comparison. An empty or one-row range counts 0.
 */
export function coulombCountAh(
  timeS: Float64Array,
  currentA: Float64Array,
  segment: Int32Array | null,
  longestStepS: number,
  range?: CountRange,
  longestSilenceS = longestStepS,
): CountedCharge {
  const fromRow = range?.fromRow ?? 0;
  const toRow = Math.min(range?.toRow ?? timeS.length - 1, timeS.length - 1);
  const charged = new CompensatedSum();
  const discharged = new CompensatedSum();
  let coveredS = 0;
  let stepsLeftOut = 0;
  let known = -1;
  for (let row = fromRow; row <= toRow; row++) {
    const now = currentA[row] ?? Number.NaN;
    if (!Number.isFinite(now)) continue;
    const before = known;
    known = row;
    if (before < 0 || (segment !== null && segment[row] !== segment[before])) continue;
    const stepS = (timeS[row] ?? Number.NaN) - (timeS[before] ?? Number.NaN);
    const partAs = ((now + (currentA[before] ?? Number.NaN)) / 2) * stepS;
    if (stepS > (row - before > 1 ? longestSilenceS : longestStepS) || !Number.isFinite(partAs)) {
      stepsLeftOut++;
      continue;
    }
    coveredS += stepS;
    if (partAs > 0) charged.add(partAs);
    else discharged.add(-partAs);
  }
  const chargedAh = charged.total() / secondsPerHour;
  const dischargedAh = discharged.total() / secondsPerHour;
  return { netAh: chargedAh - dischargedAh, chargedAh, dischargedAh, coveredS, stepsLeftOut };
}

const secondsPerHour = 3600;

class CompensatedSum {
  private sum = 0;
  private lost = 0;

  add(part: number): void {
    const next = this.sum + part;
    this.lost += Math.abs(this.sum) >= Math.abs(part) ? this.sum - next + part : part - next + this.sum;
    this.sum = next;
  }

  total(): number {
    return this.sum + this.lost;
  }
}
