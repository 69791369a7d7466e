import type { FrozenLogRun } from "@/lib/readings/measure/frozen-log";
import { median } from "@/lib/readings/measure/median";
import { type OpenCircuitCurve, socAtVoltage, voltageAtSoc } from "@/lib/readings/measure/open-circuit";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Rows all groups must stand still together; a look that far apart twice in a row holds any longer run. Engineering default. */
const longestSoundRun = 20;
const rowsBetweenLooks = longestSoundRun / 2;
/** Share of rated capacity that must flow at all, and the one over which no cell keeps its voltage, whatever its curve. Engineering defaults. */
const leastFlowed = 0.03;
const movesAnyCell = 0.5;
/** Steps of the coarsest column by which the curve must rise over what flowed: after one every group reads otherwise. Engineering default. */
const stepsRisen = 1.5;
/** Steps of load, as a share of rated capacity per hour, that move a group. Engineering defaults. */
const stepPerHour = 0.5;
const stepsNeeded = 4;
/** Steps of load that are certain to show: a group of half a milliohm moves by mV; V of the coarsest column this is asked of. Engineering default. */
const coarsestV = 0.01;
const leastGroups = 3;

/**
 * Stretches in which every group repeats its value to the last digit while charge flows or the load changes, whatever else of the log goes on: the
 * monitor repeats old values, and nobody watches the cells. The other groups cannot tell it, for they stand still as well. On the flat of its
 * curve a cell read in steps of 5 mV may keep its value over hours of a steady charge: what flowed must be more than the curve hides in a step.
 * O(rows / 10 · groups).
 */
export function heldGroupRuns(survey: RowSurvey, curve: OpenCircuitCurve | null): FrozenLogRun[] {
  const { log, groups, resolutionV } = survey;
  // A column that never changes tells no resolution.
  const stepV = Math.max(...resolutionV) || coarsestV;
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
      const run = asked(survey, fromRow, toRow, { curve, stepV });
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
function asked(
  survey: RowSurvey,
  fromRow: number,
  toRow: number,
  { curve, stepV }: { readonly curve: OpenCircuitCurve | null; readonly stepV: number },
): FrozenLogRun | null {
  const { log, intervalS, ratedCapacityAh, restCurrentA } = survey;
  let flowedAh = 0;
  let netAh = 0;
  let farthestAh = 0;
  let steps = 0;
  let sum = 0;
  let known = 0;
  for (let row = fromRow + 1; row <= toRow; row += 1) {
    const current = log.currentA[row] ?? Number.NaN;
    const before = log.currentA[row - 1] ?? Number.NaN;
    if (!Number.isFinite(current)) continue;
    sum += current;
    known += 1;
    if (Math.abs(current) > restCurrentA) {
      const movedAh = (current * (intervalS[row] ?? 0)) / 3600;
      flowedAh += Math.abs(movedAh);
      netAh += movedAh;
      if (Math.abs(netAh) > Math.abs(farthestAh)) farthestAh = netAh;
    }
    if (Math.abs(current - before) >= stepPerHour * ratedCapacityAh) steps += 1;
  }
  const stepped = stepV <= coarsestV && steps >= stepsNeeded;
  const flowed =
    flowedAh >= leastFlowed * ratedCapacityAh &&
    moves(survey, fromRow, (100 * farthestAh) / ratedCapacityAh, { curve, stepV });
  if (!stepped && !flowed) return null;
  return {
    fromRow,
    toRow,
    durationS: (log.timeS[toRow] ?? 0) - (log.timeS[fromRow] ?? 0),
    currentA: known === 0 ? 0 : sum / known,
    groupsOnly: { flowedAh },
  };
}

/** V by which a group under a steady current stands off its curve at most, and % between the places tried. Engineering defaults. */
const polarisedV = 0.06;
const triedEveryPercent = 1;

/**
 * Whether a charge of so many % takes the group in the middle over a step of its readings, wherever on the curve it may truly stand and either
 * way along it: the sign may be wrong.
 */
function moves(
  { log, referenceV }: RowSurvey,
  row: number,
  percent: number,
  { curve, stepV }: { readonly curve: OpenCircuitCurve | null; readonly stepV: number },
): boolean {
  const far = Math.abs(percent);
  if (far >= 100 * movesAnyCell) return true;
  const reading = referenceV[row] ?? median(log.cellVoltagesV.map((column) => column[row] ?? Number.NaN));
  if (curve === null || reading === null || !Number.isFinite(reading)) return false;
  const lowest = Math.max(0, socAtVoltage(curve, reading - polarisedV) - far);
  const highest = Math.min(100, socAtVoltage(curve, reading + polarisedV) + far);
  for (let from = lowest; from + far <= highest; from += triedEveryPercent) {
    if (voltageAtSoc(curve, from + far) - voltageAtSoc(curve, from) < stepsRisen * stepV) return false;
  }
  return true;
}
