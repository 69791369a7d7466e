import { noiseRows } from "@/lib/readings/measure/every-nth";
import { steps } from "@/lib/readings/measure/group-resistance";
import { scaledMad } from "@/lib/readings/measure/median";
import { outputOff } from "@/lib/readings/measure/pack-sum";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { slopeThroughOrigin } from "@/lib/readings/measure/slope-through-origin";

export interface PathScatter {
  /** Scatter of the resistance between groups and terminals from load step to load step, noise taken out, ohm. */
  readonly scatterOhm: number;
  /** The scatter in V over the noise of (sum of groups - pack voltage) while the current keeps still. */
  readonly overNoise: number;
  readonly pairs: number;
}

/** Share of the typical load step under which the current counts as still; pairs of either kind needed. Defaults. */
const stillShare = 0.02;
const pairsNeeded = 40;

/**
 * Whether the resistance outside the groups keeps its value from one load step to the next: a lead or connector that
 * makes and breaks within seconds averages out over parts of a log, but not over single steps. `null` where too little
 * load was logged, or no pack voltage. `roundingV` is the rounding error of (sum of groups - pack voltage) in one row.
 */
export function pathScatter(survey: RowSurvey, rows: Int32Array, roundingV = 0): PathScatter | null {
  const { log, sumV } = survey;
  // With the output off the terminals stand at nought whatever the leads are like.
  const shift = new Float64Array(log.rows);
  for (let row = 0; row < log.rows; row += 1) {
    const sum = sumV[row] ?? Number.NaN;
    const volt = log.packVoltageV[row] ?? Number.NaN;
    shift[row] = volt > outputOff * sum ? sum - volt : Number.NaN;
  }
  const amps = steps(rows, log.currentA);
  const volts = steps(rows, shift);
  let squares = 0;
  let pairs = 0;
  for (let place = 0; place < amps.length; place += 1) {
    const amp = amps[place] ?? Number.NaN;
    const volt = volts[place] ?? Number.NaN;
    if (!Number.isFinite(amp + volt)) continue;
    squares += amp * amp;
    pairs += 1;
  }
  if (pairs < pairsNeeded || squares === 0) return null;
  const typicalA = Math.sqrt(squares / pairs);
  const slope = slopeThroughOrigin(amps, volts);
  const left = volts
    .map((volt, place) => (volt - slope * (amps[place] ?? 0)) ** 2)
    .filter(Number.isFinite)
    .sort();
  const kept = left.subarray(0, Math.floor(0.98 * left.length));
  const meanSquare = kept.reduce((sum, one) => sum + one, 0) / Math.max(1, kept.length);
  const still: number[] = [];
  const stride = Math.max(1, Math.ceil(log.rows / noiseRows));
  for (let row = 1; row < log.rows; row += stride) {
    if (!(Math.abs((log.currentA[row] ?? Number.NaN) - (log.currentA[row - 1] ?? 0)) <= stillShare * typicalA))
      continue;
    if (survey.intervalS[row] === 0) continue;
    still.push((shift[row] ?? Number.NaN) - (shift[row - 1] ?? Number.NaN));
  }
  const stillV = still.length < pairsNeeded ? null : scaledMad(still);
  if (stillV === null) return null;
  // While the current keeps still a coarse reading does not flicker at all; at a load step its rounding still counts, twice.
  const noiseV = Math.max(stillV, Math.SQRT2 * roundingV);
  const scatterV = Math.sqrt(Math.max(0, meanSquare - noiseV ** 2));
  return { scatterOhm: scatterV / typicalA, overNoise: scatterV / Math.max(noiseV, 1e-4), pairs };
}
