import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import { noiseRows } from "@/lib/readings/measure/every-nth";
import { scaledMad } from "@/lib/readings/measure/median";

export interface HeatRise {
  readonly riseK: number;
  readonly overS: number;
}

/** The rise that ends at `row`: at least `heatingS` long, longer where that holds too few rising samples. */
export function riseUpTo(
  timeS: Float64Array,
  valuesC: Float64Array,
  runStart: number,
  row: number,
  gates: Pick<AcuteGates, "heatingS" | "risesNeeded" | "largestStepShare" | "steepLeastS">,
): HeatRise | null {
  const warm = valuesC[row] ?? Number.NaN;
  let later = warm;
  let rises = 0;
  let largest = 0;
  for (let at = row - 1; at >= runStart; at -= 1) {
    const value = valuesC[at] ?? Number.NaN;
    if (!Number.isFinite(value)) continue;
    const step = later - value;
    if (step > 0) rises += 1;
    largest = Math.max(largest, step);
    later = value;
    const overS = (timeS[row] ?? 0) - (timeS[at] ?? 0);
    if (overS < gates.heatingS || rises < gates.risesNeeded) continue;
    const riseK = warm - value;
    const isRise = riseK > 0 && largest <= gates.largestStepShare * riseK;
    return isRise && !isLeap(timeS, valuesC, row, riseK, gates) ? { riseK, overS } : null;
  }
  return null;
}

/**
 * Whether most of a rise that ends at `row` lies in too few rows and seconds to be heat: what flickers before a jump, or stays after it,
 * makes no rise of it. As many rising rows as a rise needs, or as many seconds as a steep one lasts, make it one.
 */
function isLeap(
  timeS: Float64Array,
  valuesC: Float64Array,
  row: number,
  riseK: number,
  gates: Pick<AcuteGates, "risesNeeded" | "largestStepShare" | "steepLeastS">,
): boolean {
  const warm = valuesC[row] ?? Number.NaN;
  // Most of it: what lies between as much left out at the top as at the foot.
  const leftOutK = ((1 - gates.largestStepShare) / 2) * riseK;
  let later = warm;
  let laterRow = row;
  let topRow = -1;
  let rises = 0;
  for (let at = row - 1; at >= 0; at -= 1) {
    const value = valuesC[at] ?? Number.NaN;
    if (!Number.isFinite(value)) continue;
    if (topRow < 0 && value < warm - leftOutK) topRow = laterRow;
    if (topRow >= 0 && later > value) rises += 1;
    later = value;
    laterRow = at;
    if (topRow < 0) continue;
    const overS = (timeS[topRow] ?? 0) - (timeS[at] ?? 0);
    if (rises >= gates.risesNeeded || overS >= gates.steepLeastS) return false;
    if (value <= warm - riseK + leftOutK) return true;
  }
  return true;
}

/**
 * A rise in a few great steps, such as a runaway is at half a minute between rows: 27, 45, 110 degC. One step alone is a
 * jump of the probe, and so are several within seconds, counted from the row before the first of them to the row after the last.
 */
export function steepRise(
  timeS: Float64Array,
  valuesC: Float64Array,
  runStart: number,
  row: number,
  [lowC, railC]: readonly [number, number],
  gates: Pick<AcuteGates, "steepStepK" | "steepSteps" | "steepRiseK" | "steepLeastS">,
): HeatRise | null {
  const warm = valuesC[row] ?? Number.NaN;
  let later = warm;
  let laterRow = row;
  let topRow = -1;
  let steps = 0;
  for (let at = row - 1; at >= runStart; at -= 1) {
    const value = valuesC[at] ?? Number.NaN;
    if (!(value >= lowC)) continue;
    // A step from the rail upwards is between two values of a shorted probe.
    const isGreat = later - value >= gates.steepStepK && value < railC;
    if (isGreat && topRow < 0) topRow = laterRow;
    later = value;
    laterRow = at;
    // Flat rows before the steps, or after them, make them no slower.
    if (!isGreat) continue;
    steps += 1;
    const overS = (timeS[topRow] ?? 0) - (timeS[at] ?? 0);
    const riseK = warm - value;
    if (steps >= gates.steepSteps && riseK >= gates.steepRiseK && overS >= gates.steepLeastS) return { riseK, overS };
  }
  return null;
}

/** Typical change from row to row over the whole log, K: a wet or worn probe flickers by many K. */
export function probeNoiseK(valuesC: Float64Array, low: number, high: number): number {
  const stride = Math.max(1, Math.ceil(valuesC.length / noiseRows));
  const changes = new Float64Array(Math.ceil(valuesC.length / stride)).fill(Number.NaN);
  for (let row = stride; row < valuesC.length; row += stride) {
    const warm = valuesC[row] ?? Number.NaN;
    const before = valuesC[row - 1] ?? Number.NaN;
    if (warm >= low && warm <= high && before >= low && before <= high) changes[row / stride] = warm - before;
  }
  return (scaledMad(changes) ?? 0) / Math.SQRT2;
}

/** A probe that comes straight back was never warm. */
export function lasts(valuesC: Float64Array, row: number, leastC: number, low: number): boolean {
  let seen = 0;
  let kept = 0;
  for (let later = row + 1; later < valuesC.length && seen < 5; later += 1) {
    const warm = valuesC[later] ?? Number.NaN;
    if (!(warm >= low)) continue;
    seen += 1;
    if (warm >= leastC) kept += 1;
  }
  return kept >= 0.6 * seen;
}
