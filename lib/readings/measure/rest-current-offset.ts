import { scaledMad } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** s. Rest after which the current is taken to be zero in truth. Engineering default. */
const settledS = 600;

/** Mean of the currents given, A: what a sensor reads while nothing flows. `null` for none. */
export function meanCurrentA(currents: ArrayLike<number>): number | null {
  let sum = 0;
  let count = 0;
  for (const current of Array.from(currents)) {
    if (!Number.isFinite(current)) continue;
    sum += current;
    count += 1;
  }
  return count === 0 ? null : sum / count;
}

/** Mean current of rests of 10 min and more, with its spread: offset of the sensor plus what the electronics draw. */
export function restCurrentOffset(survey: RowSurvey): { offsetA: number; errorA: number; rows: number } | null {
  const currents: number[] = [];
  const stride = Math.max(1, Math.floor(survey.log.rows / 20_000));
  for (let row = 0; row < survey.log.rows; row += stride) {
    if ((survey.restingS[row] ?? -1) >= settledS) currents.push(survey.log.currentA[row] ?? Number.NaN);
  }
  const offsetA = meanCurrentA(currents);
  if (offsetA === null) return null;
  return { offsetA, errorA: (scaledMad(currents) ?? 0) / Math.sqrt(currents.length), rows: currents.length };
}
