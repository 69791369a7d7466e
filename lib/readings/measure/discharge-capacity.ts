import { isBorneOut } from "@/lib/readings/measure/lone-reading";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface DischargeCapacity {
  readonly capacityAh: number;
  readonly fromRow: number;
  /** First row at or below the cut-off: included. */
  readonly toRow: number;
  readonly meanCurrentA: number;
  /** A, the load at which the first group reached its cut-off: a peak reaches it early. */
  readonly loadAtCutOffA: number;
}

/** Share of rated capacity that must have flowed out before it is a full discharge. Engineering default. */
const leastShare = 0.3;

/**
 * Full discharges in the log: from the last row in which the median group stands near the charge limit and the charge has tapered, to
 * the first row with a group at its cut-off, without an unknown stretch between. The last such discharge is returned.
 *
 * End rule: the first row at or below the cut-off is included. With it the published capacities of NASA PCoE B0005 are met;
 * stopping one row earlier reads 0.6 % low. Groups whose readings are void end nothing, and a reading that comes out of nowhere does so only
 * where the row after or the pack voltage bears it out.
 */
export function fullDischarge(
  survey: RowSurvey,
  cellMaxV: number,
  cellMinV: number,
  voidGroups: ReadonlySet<number> = new Set(),
): DischargeCapacity | null {
  const { log, referenceV, stretch, chargeAh, gates } = survey;
  let fullRow = -1;
  let found: DischargeCapacity | null = null;
  for (let row = 0; row < log.rows; row += 1) {
    const tapered = (log.currentA[row] ?? Number.NaN) <= gates.taperedPerHour * survey.ratedCapacityAh;
    if ((referenceV[row] ?? 0) >= cellMaxV - gates.fullWithinV && tapered) fullRow = row;
    if (fullRow >= 0 && stretch[row] !== stretch[fullRow]) fullRow = -1;
    if (
      fullRow < 0 ||
      !((log.currentA[row] ?? 0) < -survey.restCurrentA) ||
      !isCutOff(survey, row, cellMinV, voidGroups)
    )
      continue;
    const capacityAh = (chargeAh[fullRow] ?? 0) - (chargeAh[row] ?? 0);
    const hours = ((log.timeS[row] ?? 0) - (log.timeS[fullRow] ?? 0)) / 3600;
    if (capacityAh > leastShare * survey.ratedCapacityAh && hours > 0) {
      found = {
        capacityAh,
        fromRow: fullRow,
        toRow: row,
        meanCurrentA: -capacityAh / hours,
        loadAtCutOffA: -(log.currentA[row] ?? 0),
      };
    }
    fullRow = -1;
  }
  return found;
}

/** V a group may fall against the others from one row to the next on its way to empty; more is a jump. Engineering default. */
const gradualV = 0.05;

function isCutOff(survey: RowSurvey, row: number, cellMinV: number, voidGroups: ReadonlySet<number>): boolean {
  if (!((survey.lowestV[row] ?? Number.NaN) <= cellMinV)) return false;
  const lowest = survey.gates.cellPlausibleV[0];
  return survey.log.cellVoltagesV.some((column, index) => {
    const volt = column[row] ?? Number.NaN;
    if (!(volt >= lowest && volt <= cellMinV) || voidGroups.has(index + 1)) return false;
    const fellV = (column[row - 1] ?? Number.NaN) - volt;
    const othersFellV = (survey.referenceV[row - 1] ?? Number.NaN) - (survey.referenceV[row] ?? Number.NaN);
    const next = column[row + 1] ?? Number.NaN;
    return (
      fellV - othersFellV <= gradualV || (next >= lowest && next <= cellMinV) || isBorneOut(survey, index, row, "below")
    );
  });
}
