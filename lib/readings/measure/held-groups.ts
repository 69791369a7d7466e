import type { FrozenLogRun } from "@/lib/readings/measure/frozen-log";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Rows all groups must stand still together; a look that far apart twice in a row holds any longer run. Engineering default. */
const longestSoundRun = 20;
const rowsBetweenLooks = longestSoundRun / 2;
/** Share of rated capacity whose flow moves some group by a step of any resolution; and steps of load, as a share of rated capacity, that do. Engineering defaults. */
const movesEveryGroup = 0.03;
const stepPerHour = 0.5;
const stepsNeeded = 4;
/** Steps of load that are certain to show: a group of half a milliohm moves by mV; V of the coarsest column this is asked of. Engineering default. */
const coarsestV = 0.01;
const leastGroups = 3;

/**
 * Stretches in which every group repeats its value to the last digit while charge flows or the load changes, whatever else of the log goes on: the
 * monitor repeats old values, and nobody watches the cells. The other groups cannot tell it, for they stand still as well. O(rows / 10 · groups).
 */
export function heldGroupRuns(survey: RowSurvey): FrozenLogRun[] {
  const { log, groups, resolutionV } = survey;
  const [first] = log.cellVoltagesV;
  if (groups < leastGroups || first === undefined) return [];
  const runs: FrozenLogRun[] = [];
  let look = rowsBetweenLooks;
  while (look < log.rows) {
    if (!areAlike(log.cellVoltagesV, look, look - rowsBetweenLooks)) {
      look += rowsBetweenLooks;
      continue;
    }
    let fromRow = look;
    let toRow = look;
    while (fromRow > 0 && areAlike(log.cellVoltagesV, fromRow - 1, look)) fromRow -= 1;
    while (toRow < log.rows - 1 && areAlike(log.cellVoltagesV, toRow + 1, look)) toRow += 1;
    if (toRow - fromRow >= longestSoundRun) {
      const run = asked(survey, fromRow, toRow, Math.max(...resolutionV) <= coarsestV);
      if (run !== null) runs.push(run);
    }
    look = toRow + rowsBetweenLooks;
  }
  return runs;
}

/** A missing value is like no other. */
function areAlike(columns: readonly Float64Array[], row: number, other: number): boolean {
  return columns.every((column) => column[row] === column[other]);
}

/** What flowed and changed meanwhile; null where groups may well have stood still. */
function asked(survey: RowSurvey, fromRow: number, toRow: number, isFine: boolean): FrozenLogRun | null {
  const { log, intervalS, ratedCapacityAh, restCurrentA } = survey;
  let flowedAh = 0;
  let steps = 0;
  let sum = 0;
  let known = 0;
  for (let row = fromRow + 1; row <= toRow; row += 1) {
    const current = log.currentA[row] ?? Number.NaN;
    const before = log.currentA[row - 1] ?? Number.NaN;
    if (!Number.isFinite(current)) continue;
    sum += current;
    known += 1;
    if (Math.abs(current) > restCurrentA) flowedAh += (Math.abs(current) * (intervalS[row] ?? 0)) / 3600;
    if (Math.abs(current - before) >= stepPerHour * ratedCapacityAh) steps += 1;
  }
  if (flowedAh < movesEveryGroup * ratedCapacityAh && !(isFine && steps >= stepsNeeded)) return null;
  return {
    fromRow,
    toRow,
    durationS: (log.timeS[toRow] ?? 0) - (log.timeS[fromRow] ?? 0),
    currentA: known === 0 ? 0 : sum / known,
    groupsOnly: { flowedAh },
  };
}
