import { median } from "@/lib/readings/measure/median";
import type { ReferenceCharge } from "@/lib/readings/measure/reference-charge";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

const situations = [
  "rest at high charge",
  "rest at middle charge",
  "rest at low charge",
  "discharge load",
  "charge",
  "end of charge",
  "end of discharge",
] as const;

export type Situation = (typeof situations)[number];

export interface Spread {
  readonly situation: Situation;
  readonly rows: number;
  /** Median deviation of each group from the median group, V. */
  readonly deviationV: Float64Array;
  readonly spreadV: number;
  readonly lowestGroup: number;
  readonly highestGroup: number;
}

/** Engineering defaults: % of charge that counts as high and low, share of rated capacity per hour that counts as load. */
const highPercent = 75;
const lowPercent = 30;
const endPercent = [10, 95] as const;
const loadPerHour = 0.3;
const chargePerHour = 0.1;
const rowsNeeded = 5;

/** Deviations from the median group, apart for each situation: each fault shows in its own pattern of situations. */
export function spreadBySituation(survey: RowSurvey, charge: ReferenceCharge): Spread[] {
  const rowsOf = new Map<Situation, number[]>();
  for (const [at, row] of charge.rows.entries()) {
    for (const situation of situationsOf(survey, row, charge.socPercent[at] ?? 50)) {
      const rows = rowsOf.get(situation);
      if (rows === undefined) rowsOf.set(situation, [row]);
      else rows.push(row);
    }
  }
  const spreads: Spread[] = [];
  for (const situation of situations) {
    const rows = rowsOf.get(situation) ?? [];
    if (rows.length >= rowsNeeded) spreads.push(spreadOver(survey, situation, rows));
  }
  return spreads;
}

function situationsOf(survey: RowSurvey, row: number, percent: number): Situation[] {
  const current = survey.log.currentA[row] ?? 0;
  const found: Situation[] = [];
  if ((survey.restingS[row] ?? -1) >= survey.gates.restForSpreadS) {
    if (percent >= highPercent) found.push("rest at high charge");
    else if (percent <= lowPercent) found.push("rest at low charge");
    else found.push("rest at middle charge");
  }
  if (current <= -loadPerHour * survey.ratedCapacityAh) found.push("discharge load");
  if (current >= chargePerHour * survey.ratedCapacityAh) found.push("charge");
  if (current > survey.restCurrentA && percent >= endPercent[1]) found.push("end of charge");
  if (current < -survey.restCurrentA && percent <= endPercent[0]) found.push("end of discharge");
  return found;
}

function spreadOver(survey: RowSurvey, situation: Situation, rows: readonly number[]): Spread {
  const [low, high] = survey.gates.cellPlausibleV;
  const deviationV = Float64Array.from(survey.log.cellVoltagesV, (column) => {
    const off = rows.map((row) => {
      const volt = column[row] ?? Number.NaN;
      return volt >= low && volt <= high ? volt - (survey.referenceV[row] ?? Number.NaN) : Number.NaN;
    });
    return median(off) ?? Number.NaN;
  });
  let lowest = 0;
  let highest = 0;
  for (const [index, off] of deviationV.entries()) {
    if (off < (deviationV[lowest] ?? Number.NaN) || Number.isNaN(deviationV[lowest])) lowest = index;
    if (off > (deviationV[highest] ?? Number.NaN) || Number.isNaN(deviationV[highest])) highest = index;
  }
  const spreadV = (deviationV[highest] ?? 0) - (deviationV[lowest] ?? 0);
  return { situation, rows: rows.length, deviationV, spreadV, lowestGroup: lowest + 1, highestGroup: highest + 1 };
}
