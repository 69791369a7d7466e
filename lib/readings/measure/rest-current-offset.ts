import { everyNth, noiseRows } from "@/lib/readings/measure/every-nth";
import { scaledMad } from "@/lib/readings/measure/median";
import { columnResolution, roundingOfStep } from "@/lib/readings/measure/resolution";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { oncePer } from "@/lib/readings/once-per";

/** s. Rest after which the current is taken to be zero in truth. Engineering default. */
const settledS = 600;

/** Mean of the currents given, A: what a sensor reads while nothing flows. `null` for none. */
export function meanCurrentA(currents: Float64Array | readonly number[]): number | null {
  let sum = 0;
  let count = 0;
  for (let row = 0; row < currents.length; row += 1) {
    const current = currents[row] ?? Number.NaN;
    if (!Number.isFinite(current)) continue;
    sum += current;
    count += 1;
  }
  return count === 0 ? null : sum / count;
}

export interface RestCurrent {
  /** Mean over the rows of all rests, A. */
  readonly offsetA: number;
  /** Standard uncertainty, A; null where the column never changes and nothing tells its step. */
  readonly errorA: number | null;
  readonly rests: number;
  readonly rows: number;
}

/**
 * Mean current of rests of 10 min and more: offset of the sensor plus what the electronics draw. Its error is the rounding of the
 * column and how the rests differ, by their number: the rows of one rest share what is wrong with them, so that one rest alone has the
 * scatter of a single row. `null` without such a rest.
 */
export const restCurrentOffset = oncePer((survey: RowSurvey): RestCurrent | null => {
  const { sumA, rows, rests } = settledRests(survey);
  if (rows === 0) return null;
  const offsetA = sumA / rows;
  const roundingA = roundingOfStep(stepOfCurrentA(survey));
  const spreadA = spreadOfRests(rests.map((rest) => rest.sumA / rest.rows)) ?? scaledMad(settledCurrents(survey)) ?? 0;
  const errorA = Math.hypot(roundingA, spreadA);
  return { offsetA, errorA: errorA > 0 ? errorA : null, rests: rests.length, rows };
});

interface SettledRows {
  readonly sumA: number;
  readonly rows: number;
}

/** Currents of all settled rests added up, and of each that has one. */
function settledRests({ log, restingS }: RowSurvey): SettledRows & { readonly rests: readonly SettledRows[] } {
  const { currentA } = log;
  const rests: SettledRows[] = [];
  let sumA = 0;
  let rows = 0;
  let ownSumA = 0;
  let ownRows = 0;
  let before = -1;
  const end = () => {
    if (ownRows > 0) rests.push({ sumA: ownSumA, rows: ownRows });
    ownSumA = 0;
    ownRows = 0;
  };
  for (let row = 0; row < log.rows; row += 1) {
    const rested = restingS[row] ?? -1;
    if (rested < before || before < settledS) end();
    before = rested;
    if (rested < settledS) continue;
    const current = currentA[row] ?? Number.NaN;
    if (!Number.isFinite(current)) continue;
    sumA += current;
    rows += 1;
    ownSumA += current;
    ownRows += 1;
  }
  end();
  return { sumA, rows, rests };
}

function settledCurrents({ log, restingS }: RowSurvey): Float64Array {
  return log.currentA.filter((current, row) => (restingS[row] ?? -1) >= settledS && Number.isFinite(current));
}

/** Decimals looked for in a current, A (engineering default, no authority): a sensor of a pack does not see a microampere. */
const mostDecimals = 6;

/**
 * Step the current was logged with, A: the smallest between two of its values, or the last decimal any of them has where it takes too
 * few values to show its step. 0 where neither tells it, because no step that small lies under the current of a rest.
 */
function stepOfCurrentA({ log, restCurrentA }: RowSurvey): number {
  const smallestA = columnResolution(log.currentA);
  if (smallestA > 0 && smallestA <= restCurrentA) return smallestA;
  const sample = everyNth(log.currentA, Math.max(1, Math.ceil(log.rows / noiseRows))).filter(Number.isFinite);
  for (let decimals = 1; decimals <= mostDecimals; decimals += 1) {
    const isWhole = (value: number) => Math.abs(value * 10 ** decimals - Math.round(value * 10 ** decimals)) < 1e-6;
    if (sample.every(isWhole)) return sample.every(Number.isInteger) ? 0 : 10 ** -decimals;
  }
  return 0;
}

/** Standard error of the mean of several rests; null for one, which tells nothing of how rests differ. */
function spreadOfRests(means: readonly number[]): number | null {
  const { length } = means;
  if (length < 2) return null;
  const middle = means.reduce((sum, one) => sum + one, 0) / length;
  const squares = means.reduce((sum, one) => sum + (one - middle) ** 2, 0);
  return Math.sqrt(squares / (length - 1) / length);
}
