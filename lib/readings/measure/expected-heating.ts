import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** What of a pack decides how fast its own losses can warm it. */
export interface HeatingPack {
  /** ohm, one series group when new. */
  readonly groupOhm: number;
  readonly ratedCapacityAh: number;
  /** A, taken where a row has no current. */
  readonly continuousA: number;
}

/** Wh/kg and J/(kg K) of cells, from memory; both on the side that warms faster. V, mean of a cell. */
const specificEnergyWhPerKg = 250;
const specificHeatJPerKgK = 900;
const meanCellV = 3.65;

/**
 * K/min by which the pack's own resistance can warm its cells at most, were no heat given off: I²R over mass times
 * specific heat. For each row the larger of the means over the last `shortS`, the time a rise is judged over, and
 * over the last `longS`, because heat of a load reaches a probe late.
 */
export function expectedHeatingKPerMin(survey: RowSurvey, pack: HeatingPack, shortS: number, longS: number) {
  const { log, intervalS } = survey;
  const massKg = (pack.ratedCapacityAh * meanCellV) / specificEnergyWhPerKg;
  const perSquareAmpere = (60 * pack.groupOhm) / (massKg * specificHeatJPerKgK);
  const squareA2S = new Float64Array(log.rows);
  for (let row = 1; row < log.rows; row += 1) {
    const logged = log.currentA[row] ?? Number.NaN;
    const before = log.currentA[row - 1] ?? Number.NaN;
    const ampere = Math.max(Math.abs(logged), Math.abs(before));
    const flowing = Number.isFinite(ampere) ? ampere : pack.continuousA;
    squareA2S[row] = (squareA2S[row - 1] ?? 0) + flowing * flowing * (intervalS[row] ?? 0);
  }
  const mean = (from: number, row: number) => {
    const seconds = (log.timeS[row] ?? 0) - (log.timeS[from] ?? 0);
    return seconds > 0 ? ((squareA2S[row] ?? 0) - (squareA2S[from] ?? 0)) / seconds : 0;
  };
  /** Rows may be asked in any order. */
  return (row: number): number => {
    const timeS = log.timeS[row] ?? 0;
    const short = firstRowSince(log.timeS, row, timeS - shortS);
    const long = firstRowSince(log.timeS, short, timeS - longS);
    return perSquareAmpere * Math.max(mean(short, row), mean(long, row));
  };
}

function firstRowSince(timeS: Float64Array, from: number, sinceS: number): number {
  let row = from;
  while (row > 0 && (timeS[row - 1] ?? 0) >= sinceS && (timeS[row - 1] ?? 0) <= (timeS[row] ?? 0)) row -= 1;
  return row;
}
