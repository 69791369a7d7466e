import { median, scaledMad } from "@/lib/readings/measure/median";
import { restPeriods } from "@/lib/readings/measure/rest-periods";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { theilSenSlope } from "@/lib/readings/measure/theil-sen";

export interface RestDrift {
  /** Per group against the median group, mV per day, over all rests long enough. */
  readonly millivoltPerDay: Float64Array;
  readonly errorMillivoltPerDay: Float64Array;
  /** Same over the first and second half, for whether it accelerates. */
  readonly firstHalf: Float64Array;
  readonly secondHalf: Float64Array;
  /** Deviation from the median group at the end, mV. */
  readonly endMillivolt: Float64Array;
  /** Days counted, without the relaxation before. */
  readonly days: number;
  readonly rests: number;
  /** Median group at the end, V. */
  readonly referenceV: number;
  readonly scaledMad: number;
}

/** Points a rest is thinned to before the robust slope; enough for hourly points over six days. */
const points = 150;

/**
 * Drift of every group against the median group while the pack rests: what a leak inside a cell looks like.
 *
 * Only rows after `waitS` of rest count (relaxation looks like a leak of hundreds of mV per day), rests must then last
 * `windowS` more; slopes are Theil-Sen, several rests are averaged by their length. `null` where no rest is that long.
 */
export function restDrift(
  survey: RowSurvey,
  waitS = survey.gates.restForDriftS,
  windowS = survey.gates.driftWindowS,
): RestDrift | null {
  const rests = restPeriods(survey, waitS + windowS);
  if (rests.length === 0) return null;
  const size = survey.groups;
  const total = {
    all: new Float64Array(size),
    error: new Float64Array(size),
    first: new Float64Array(size),
    second: new Float64Array(size),
  };
  const endMillivolt = new Float64Array(size).fill(Number.NaN);
  let days = 0;
  let referenceV = Number.NaN;
  for (const rest of rests) {
    const rows = rowsAfterWait(survey, rest.startRow, rest.endRow, waitS);
    const at = rows.map((row) => (survey.log.timeS[row] ?? 0) / 86400);
    const span = (at.at(-1) ?? 0) - (at[0] ?? 0);
    if (rows.length < 6 || span <= 0) continue;
    days += span;
    referenceV = rest.referenceV;
    for (const [index, column] of survey.log.cellVoltagesV.entries()) {
      const off = rows.map((row) => 1000 * smoothed(survey, column, row));
      const half = rows.length >> 1;
      const slope = theilSenSlope(at, off) ?? Number.NaN;
      const left = off.map((value, place) => value - slope * (at[place] ?? 0));
      total.all[index] = (total.all[index] ?? 0) + slope * span;
      total.first[index] =
        (total.first[index] ?? 0) + (theilSenSlope(at.slice(0, half), off.slice(0, half)) ?? Number.NaN) * span;
      total.second[index] =
        (total.second[index] ?? 0) + (theilSenSlope(at.slice(half), off.slice(half)) ?? Number.NaN) * span;
      // Standard error of a slope over an even series: sigma · sqrt(12 / n) / span.
      total.error[index] = Math.max(
        total.error[index] ?? 0,
        ((scaledMad(left) ?? 0) * Math.sqrt(12 / rows.length)) / span,
      );
      endMillivolt[index] = median(off.slice(-10)) ?? Number.NaN;
    }
  }
  if (days === 0) return null;
  const perDay = (sums: Float64Array) => sums.map((sum) => sum / days);
  const millivoltPerDay = perDay(total.all);
  return {
    millivoltPerDay,
    errorMillivoltPerDay: total.error,
    firstHalf: perDay(total.first),
    secondHalf: perDay(total.second),
    endMillivolt,
    days,
    rests: rests.length,
    referenceV,
    scaledMad: scaledMad(millivoltPerDay) ?? 0,
  };
}

function rowsAfterWait(survey: RowSurvey, startRow: number, endRow: number, waitS: number): number[] {
  const startS = (survey.log.timeS[endRow] ?? 0) - (survey.restingS[endRow] ?? 0) + waitS;
  const endS = survey.log.timeS[endRow] ?? 0;
  const rows: number[] = [];
  let nextS = startS;
  for (let row = startRow; row <= endRow; row += 1) {
    const timeS = survey.log.timeS[row] ?? 0;
    if (timeS < nextS || !Number.isFinite(survey.referenceV[row])) continue;
    rows.push(row);
    nextS = timeS + (endS - startS) / points;
  }
  return rows;
}

/** Median deviation over five rows around: one row's noise would cost the slope more than the blur does. */
function smoothed(survey: RowSurvey, column: Float64Array, row: number): number {
  const near: number[] = [];
  for (let at = row - 2; at <= row + 2; at += 1) {
    if ((survey.restingS[at] ?? -1) >= 0) near.push((column[at] ?? Number.NaN) - (survey.referenceV[at] ?? Number.NaN));
  }
  return median(near) ?? Number.NaN;
}
