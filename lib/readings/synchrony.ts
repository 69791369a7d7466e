import { type Correlation, createCorrelation } from "@/lib/readings/correlation";
import { quantileOf } from "@/lib/readings/median";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { gapLimitS } from "@/lib/readings/time-gaps";
import { usableCellV } from "@/lib/readings/validity";

export interface Synchrony {
  /** Whether cell voltages and current were sampled together, so that a resistance per group may be computed. */
  readonly synchronous: boolean;
  /** Correlation of the step in mean cell voltage with the step in current in the same row; null where there are too few steps. */
  readonly correlation: number | null;
  readonly steps: number;
  readonly sentence: string;
}

/** All three: engineering defaults, no authority. */
const fewestSteps = 10;
const leastCorrelation = 0.5;
const longestLagRows = 5;
/** A step counts when it is at least this share of the range of the current. */
const stepShare = 0.1;
const sampleLimit = 20_001;

/**
 * Whether the cell voltages of a log follow its current row by row.
 *
 * Some monitors refresh a few cells at a time, so that a row holds the current of now with voltages of seconds ago; a resistance
 * computed from that is wrong without looking wrong. Test: Pearson correlation between the step of the mean cell voltage and the step of
 * the current (positive when charging, so the right sign is plus), at lags of -5 to 5 rows. Passed where r at lag 0 is at least
 * 0.5. Rows with a cell outside its usable range, gaps and changes of segment are left out.
 */
export function synchrony(log: ReadingLog): Synchrony {
  const meanV = meanCellVoltage(log);
  const range = quantileOf(log.currentA, 0.99, sampleLimit) - quantileOf(log.currentA, 0.01, sampleLimit);
  const longestStepS = gapLimitS(log.timeS, log.segment);
  const atLag = (lag: number) => stepCorrelation(log, meanV, stepShare * range, longestStepS, lag);
  const now = atLag(0);
  if (!(range > 0) || now.pairs < fewestSteps) {
    const sentence = `The file has ${now.pairs} steps of current with all cells read; ${fewestSteps} are needed to tell whether the cells were read together with the current.`;
    return { synchronous: false, correlation: null, steps: now.pairs, sentence };
  }
  const r = now.r.toFixed(2);
  if (now.r >= leastCorrelation) {
    return {
      synchronous: true,
      correlation: now.r,
      steps: now.pairs,
      sentence: `The cells follow the current row by row (r = ${r} over ${now.pairs} steps).`,
    };
  }
  const best = bestLag(atLag);
  const late =
    best.r >= leastCorrelation
      ? `; they follow it ${Math.abs(best.lag)} rows ${best.lag > 0 ? "later" : "earlier"} (r = ${best.r.toFixed(2)})`
      : "";
  const sentence = `The cells do not follow the current row by row (r = ${r} over ${now.pairs} steps)${late}: a resistance per cell would mean nothing.`;
  return { synchronous: false, correlation: now.r, steps: now.pairs, sentence };
}

function bestLag(atLag: (lag: number) => Correlation): { lag: number; r: number } {
  let best = { lag: 0, r: Number.NEGATIVE_INFINITY };
  for (let lag = -longestLagRows; lag <= longestLagRows; lag++) {
    const { pairs, r } = atLag(lag);
    if (lag !== 0 && pairs >= fewestSteps && r > best.r) best = { lag, r };
  }
  return best;
}

/** Steps of current at `row` against steps of voltage `lag` rows later. */
function stepCorrelation(
  log: ReadingLog,
  meanV: Float64Array,
  leastStepA: number,
  longestStepS: number,
  lag: number,
): Correlation {
  const correlation = createCorrelation();
  const isStep = (row: number) =>
    row >= 1 &&
    row < log.rows &&
    log.segment[row] === log.segment[row - 1] &&
    (log.timeS[row] ?? 0) - (log.timeS[row - 1] ?? 0) <= longestStepS;
  for (let row = 1; row < log.rows; row++) {
    const stepA = (log.currentA[row] ?? Number.NaN) - (log.currentA[row - 1] ?? Number.NaN);
    if (!(Math.abs(stepA) >= leastStepA) || !isStep(row) || !isStep(row + lag)) continue;
    correlation.add(stepA, (meanV[row + lag] ?? Number.NaN) - (meanV[row + lag - 1] ?? Number.NaN));
  }
  return correlation.result();
}

/** Mean over the cells that have values at all; NaN in rows where one of those is missing or out of range. */
function meanCellVoltage({ rows, cellVoltagesV }: ReadingLog): Float64Array {
  const measured = cellVoltagesV.filter((cell) =>
    cell.some((voltageV) => voltageV >= usableCellV.least && voltageV <= usableCellV.most),
  );
  const mean = new Float64Array(rows).fill(measured.length === 0 ? Number.NaN : 0);
  for (const cell of measured) {
    for (let row = 0; row < rows; row++) {
      const voltageV = cell[row] ?? Number.NaN;
      const isUsable = voltageV >= usableCellV.least && voltageV <= usableCellV.most;
      mean[row] = (mean[row] ?? 0) + (isUsable ? voltageV / measured.length : Number.NaN);
    }
  }
  return mean;
}
