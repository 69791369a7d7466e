import { quantile } from "@/lib/readings/measure/median";
import { outputOff } from "@/lib/readings/measure/pack-sum";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { type LeastSquares, weightedLeastSquares } from "@/lib/stats/weighted-least-squares";

/** What stands between groups and terminals, row by row under load: leads, fuse, connector, shunt and switches. */
export interface PathLevels {
  /** By how much its resistance differs from row to row, standard deviation, noise and skewed sampling taken out, ohm. 0 where nothing shows. */
  readonly flickerOhm: number;
  /** Square of it over the standard error of that square: how sure it is that it differs at all. */
  readonly sureness: number;
  /** Share of what the drop does under load that current, charge and steps of the current explain: near 1 where all was read in one moment. */
  readonly explained: number;
}

/** Rows looked at, and needed. Engineering defaults. */
const rowsLookedAt = 20_000;
const rowsNeeded = 100;
/** Of the log's own high load: under the first a row counts as without load, from the second on as one with load, from the third on as one of heavy load. Defaults. */
const noLoad = 0.05;
const someLoad = 0.1;
const heavyLoad = 0.2;
/** Share of the rows left out as single odd ones. Engineering default. */
const oddOnes = 0.02;
/** ohm. Weighs the rows: a flicker of this size is looked for first. Engineering default. */
const soughtOhm = 0.001;

/**
 * A sound path takes the same resistance at every load, so (sum of groups - pack voltage) lies on one line over the current and scatters
 * about it by what it scatters without load. A contact that makes and breaks scatters by more, in proportion to the current: the square
 * of what is left is regressed on the square of the current. Rows read at slightly different moments scatter with the steps of
 * the current instead, so these are regressed on beside it. `null` where too little load was logged, or no pack voltage.
 */
export function pathLevels(survey: RowSurvey, roundingV: number): PathLevels | null {
  const rows = rowsUnderPath(survey);
  if (rows.length < rowsNeeded) return null;
  const line = lineOf(survey, rows);
  if (line === null) return null;
  const { log } = survey;
  const amps = Float64Array.from(rows, (row) => log.currentA[row] ?? 0);
  const highA = quantile(amps.map(Math.abs), 0.98) ?? 0;
  const atLoad = (share: number) => (_: number, at: number) => Math.abs(amps[at] ?? 0) >= share * highA;
  const idle = line.residuals.filter((_, at) => Math.abs(amps[at] ?? 0) < noLoad * highA);
  // While nothing flows a coarse reading stands still; under load its rounding comes on top of what the sensor scatters by.
  const noiseSquare = meanSquare(idle) + roundingV ** 2;
  const loaded = Float64Array.from(rows.keys()).filter(atLoad(someLoad));
  const flicker = flickerOf(survey, rows, line.residuals, loaded, noiseSquare);
  if (flicker === null) return null;
  const heavy = line.residuals.filter(atLoad(heavyLoad));
  const drop = amps
    .map((amp, at) => (line.coefficients[1] ?? 0) * amp + (line.residuals[at] ?? 0))
    .filter(atLoad(heavyLoad));
  const mean = drop.reduce((sum, one) => sum + one, 0) / Math.max(1, drop.length);
  const all = drop.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  const left = heavy.reduce((sum, one) => sum + one ** 2, 0);
  return { ...flicker, explained: all > 0 ? 1 - left / all : 0 };
}

export function rowsUnderPath({ log, sumV, intervalS }: RowSurvey): Int32Array {
  const rows = new Int32Array(log.rows);
  let count = 0;
  const stride = Math.max(1, Math.ceil(log.rows / rowsLookedAt));
  for (let row = 1; row + 1 < log.rows; row += stride) {
    const amps =
      (log.currentA[row - 1] ?? Number.NaN) + (log.currentA[row] ?? 0) + (log.currentA[row + 1] ?? Number.NaN);
    const volt = log.packVoltageV[row] ?? Number.NaN;
    if (!Number.isFinite(amps) || !(volt > outputOff * (sumV[row] ?? Number.NaN))) continue;
    if (intervalS[row] === 0 || intervalS[row + 1] === 0) continue;
    rows[count] = row;
    count += 1;
  }
  return rows.subarray(0, count);
}

/** The drop over the current; the pack voltage may be off by a share of itself, and the row by a moment from the current's. */
export function lineOf(
  { log, sumV }: RowSurvey,
  rows: Int32Array,
  middle = rows.reduce((sum, row) => sum + (sumV[row] ?? 0), 0) / rows.length,
): LeastSquares | null {
  const sums = Float64Array.from(rows, (row) => sumV[row] ?? 0);
  const amp = (row: number) => log.currentA[row] ?? 0;
  return weightedLeastSquares(
    [
      new Float64Array(rows.length).fill(1),
      Float64Array.from(rows, amp),
      sums.map((sum) => sum - middle),
      Float64Array.from(rows, (row) => amp(row) - amp(row - 1)),
      Float64Array.from(rows, (row) => amp(row + 1) - amp(row)),
    ],
    Float64Array.from(rows, (row, at) => (sums[at] ?? 0) - (log.packVoltageV[row] ?? 0)),
    new Float64Array(rows.length).fill(1),
  );
}

function flickerOf(
  { log }: RowSurvey,
  rows: Int32Array,
  residuals: Float64Array,
  loaded: Float64Array,
  noiseSquare: number,
): Pick<PathLevels, "flickerOhm" | "sureness"> | null {
  const amp = (at: number, apart = 0) => log.currentA[(rows[at] ?? 0) + apart] ?? 0;
  const weightOf = (at: number) => 1 / (noiseSquare + (soughtOhm * amp(at)) ** 2) ** 2;
  const apart = (at: number) => (residuals[at] ?? 0) ** 2 * Math.sqrt(weightOf(at));
  const atMost = quantile(loaded.map(apart), 1 - oddOnes) ?? Number.POSITIVE_INFINITY;
  const kept = loaded.filter((at) => apart(at) <= atMost);
  const squares = kept.map((at) => (residuals[at] ?? 0) ** 2);
  const weights = kept.map(weightOf);
  const ofLoad = kept.map((at) => amp(at) ** 2);
  const ofSteps = kept.map((at) => (amp(at) - amp(at, -1)) ** 2 + (amp(at, 1) - amp(at)) ** 2);
  const ones = new Float64Array(kept.length).fill(1);
  const aboveNoise = squares.map((square) => square - noiseSquare);
  // Noise under load is no smaller than without, and no skew makes rows scatter less: where a fit says so, it is held there.
  const withNoise = weightedLeastSquares([ofLoad, ofSteps, ones], aboveNoise, weights);
  if (isPossible(withNoise)) return flickerIn(withNoise);
  const fits = [
    weightedLeastSquares([ofLoad, ofSteps], aboveNoise, weights),
    weightedLeastSquares([ofLoad, ones], aboveNoise, weights),
    weightedLeastSquares([ofLoad], aboveNoise, weights),
  ];
  return flickerIn(fits.find(isPossible) ?? null);
}

function isPossible(fit: LeastSquares | null): fit is LeastSquares {
  return fit?.coefficients.slice(1).every((one) => one >= 0) === true;
}

function flickerIn(fit: LeastSquares | null): Pick<PathLevels, "flickerOhm" | "sureness"> | null {
  const [square, error] = [fit?.coefficients[0] ?? Number.NaN, fit?.errors[0] ?? Number.NaN];
  if (!(error > 0)) return null;
  return { flickerOhm: Math.sqrt(Math.max(0, square)), sureness: square / error };
}

/** Of all but the few largest. */
function meanSquare(values: Float64Array): number {
  if (values.length < rowsNeeded / 5) return 0;
  const squares = values.map((value) => value ** 2).sort();
  const kept = squares.subarray(0, Math.ceil((1 - oddOnes) * squares.length));
  return kept.reduce((sum, one) => sum + one, 0) / kept.length;
}
