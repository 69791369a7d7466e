import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";
import { noiseRows } from "@/lib/readings/measure/every-nth";
import { scaledMad } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { SlidingLowest } from "@/lib/readings/measure/sliding-lowest";

/** Rising samples a rise must be made of: fewer is a jump, and a jump is a fault of the probe. */
const risesNeeded = 3;
/** Largest share of a rise that may lie in one step. */
const largestShare = 0.7;
/** K. A fall by this much between two rows is no cooling: the probe is not believed from there on. */
const impossibleFallK = 5;
/** K. A step down by more than noise ends a rise. */
const noiseK = 0.3;
/** s, and sampling intervals: the longest stretch over which one rise is followed. */
const longestRiseS = 600;
const longestRiseIntervals = 5;

/**
 * Heat without a cause: a probe that warms at rest faster than the load before can explain, or that becomes hot at all.
 *
 * At rest for less than the spreading time the higher trigger applies, because heat of the load is still on its way.
 * The rise must be made of several samples, must last in the rows after, and the probe must not have jumped before.
 */
export function acuteHeat(survey: RowSurvey, gates: AcuteGates): AcuteSign[] {
  const signs: AcuteSign[] = [];
  for (const probe of survey.log.temperatures) {
    const sign = firstHeat(survey, probe.name, probe.valuesC, gates);
    if (sign !== null) signs.push(sign);
  }
  return signs;
}

function firstHeat(survey: RowSurvey, name: string, valuesC: Float64Array, gates: AcuteGates): AcuteSign | null {
  const { log, restingS } = survey;
  const [low, high] = survey.gates.temperaturePlausibleC;
  const longestS = Math.max(longestRiseS, longestRiseIntervals * survey.medianIntervalS);
  // Lowest reading of the stretch looked back over: under it no rise can be large, and the walk back is spared.
  const lowest = new SlidingLowest(valuesC);
  const leastRiseK = Math.min(impossibleFallK, (gates.restHeatingKPerMin * gates.heatingS) / 60);
  const leastOverNoiseK = noiseMultiple * probeNoiseK(valuesC, low, high);
  let runStart = 0;
  let beforeRow = -1;
  let beforeC = Number.NaN;
  let beforeSegment = -1;
  for (let row = 0; row < log.rows; row += 1) {
    const warm = valuesC[row] ?? Number.NaN;
    lowest.take(row);
    if (!(warm >= low && warm <= high)) continue;
    const step = warm - beforeC;
    if (step <= -impossibleFallK) return null;
    const segment = log.segment[row] ?? 0;
    if (!(step >= -noiseK) || segment !== beforeSegment) runStart = row;
    beforeC = warm;
    beforeSegment = segment;
    const timeS = log.timeS[row] ?? 0;
    while (runStart < beforeRow && timeS - (log.timeS[runStart] ?? 0) > longestS) runStart += 1;
    beforeRow = row;
    const resting = restingS[row] ?? -1;
    if (warm < gates.hotC && resting < gates.heatingS) continue;
    if (warm - lowest.lowestFrom(runStart) < leastRiseK) continue;
    const rise = riseUpTo(log.timeS, valuesC, runStart, row, gates.heatingS);
    if (rise === null || rise.riseK < leastOverNoiseK) continue;
    const rate = (rise.riseK / rise.overS) * 60;
    const needed = resting - rise.overS >= gates.heatSpreadS ? gates.restHeatingKPerMin : gates.freshRestHeatingKPerMin;
    const atRest = resting >= rise.overS && rate >= needed;
    if (!atRest && !(warm >= gates.hotC && rise.riseK >= impossibleFallK)) continue;
    if (!lasts(valuesC, row, warm - rise.riseK / 2, low)) continue;
    const kind = atRest ? "rest-heating" : "hot";
    const before = warm - rise.riseK;
    return { kind, row, groups: [], before, after: warm, overS: rise.overS, where: name, confirmed: true };
  }
  return null;
}

/** Multiple of a probe's own row-to-row noise a rise must exceed. Engineering default. */
const noiseMultiple = 6;

/** Typical change from row to row over the whole log, K: a wet or worn probe flickers by many K. */
function probeNoiseK(valuesC: Float64Array, low: number, high: number): number {
  const stride = Math.max(1, Math.ceil(valuesC.length / noiseRows));
  const changes = new Float64Array(Math.ceil(valuesC.length / stride)).fill(Number.NaN);
  for (let row = stride; row < valuesC.length; row += stride) {
    const warm = valuesC[row] ?? Number.NaN;
    const before = valuesC[row - 1] ?? Number.NaN;
    if (warm >= low && warm <= high && before >= low && before <= high) changes[row / stride] = warm - before;
  }
  return (scaledMad(changes) ?? 0) / Math.SQRT2;
}

/** The rise that ends at `row`: at least `seconds` long, longer where that holds too few rising samples. */
function riseUpTo(timeS: Float64Array, valuesC: Float64Array, runStart: number, row: number, seconds: number) {
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
    if (overS < seconds || rises < risesNeeded) continue;
    const riseK = warm - value;
    return riseK > 0 && largest <= largestShare * riseK ? { riseK, overS } : null;
  }
  return null;
}

/** A probe that comes straight back was never warm. */
function lasts(valuesC: Float64Array, row: number, leastC: number, low: number): boolean {
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
