import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import type { PackSum } from "@/lib/readings/measure/pack-sum";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** A fall of the pack voltage at rest that the groups do not follow. */
export interface UnfollowedFall {
  readonly fromRow: number;
  readonly toRow: number;
  /** V of the pack as the groups say it, and as it reads at its lowest. */
  readonly asGroupsV: number;
  readonly readsV: number;
  readonly overS: number;
  /** It still stands where the log ends: nothing after it says what it was. */
  readonly atEnd: boolean;
  /** No group voltage changes by a digit meanwhile, although they did while the pack rested before. */
  readonly groupsHeld: boolean;
}

/** Times the noise of sum and pack voltage, and rows and s in which a fall is seen before the log goes on. Engineering defaults. */
const overNoise = 6;
const leastRows = 3;
const leastS = 10;
/** Share of the groups' voltage under which a pack voltage says that the output was switched off. Engineering default. */
const outputOff = 0.25;
/** Rows in which groups that are held must stand still, and rows before and share of them in which they must not have. Engineering defaults. */
const heldRows = 6;
const rowsBefore = 30;
const changingShare = 0.3;

/**
 * Falls of the pack voltage against its own baseline (diagnostics.md 1.3) while no current flows and every group gives a sensible value. Without
 * current no lead, plug or fuse takes volts from it: the output was switched off unseen, its reading is wrong, or the groups are old values of
 * a pack that goes. Rows in which the switch of the output is off, or next to nothing is left, are the first of these. O(rows).
 */
export function unfollowedFalls(survey: RowSurvey, sum: PackSum, gates: AcuteGates): UnfollowedFall[] {
  if (sum.outcome !== "measured" || !Number.isFinite(sum.noiseV)) return [];
  const { log, sumV, restingS } = survey;
  const limitV = Math.max(gates.packFallV, overNoise * sum.noiseV);
  const found: UnfollowedFall[] = [];
  let fromRow = -1;
  let lowestRow = -1;
  const close = (toRow: number) => {
    if (fromRow < 0) return;
    const overS = (log.timeS[toRow] ?? 0) - (log.timeS[fromRow] ?? 0);
    const atEnd = toRow === log.rows - 1;
    if (atEnd || (toRow - fromRow + 1 >= leastRows && overS >= leastS))
      found.push({
        fromRow,
        toRow,
        asGroupsV: (sumV[lowestRow] ?? Number.NaN) - sum.baselineV,
        readsV: log.packVoltageV[lowestRow] ?? Number.NaN,
        overS,
        atEnd,
        groupsHeld: areHeld(survey, fromRow, toRow),
      });
    fromRow = -1;
  };
  for (let row = 0; row < log.rows; row += 1) {
    const groupsV = (sumV[row] ?? Number.NaN) - sum.baselineV;
    const packV = log.packVoltageV[row] ?? Number.NaN;
    const isFallen =
      (restingS[row] ?? -1) >= gates.fallSettledS &&
      groupsV - packV >= limitV &&
      packV > outputOff * groupsV &&
      log.dischargeSwitch?.[row] !== 0;
    if (!isFallen) close(row - 1);
    else if (fromRow < 0) {
      fromRow = row;
      lowestRow = row;
    } else if (packV < (log.packVoltageV[lowestRow] ?? Number.NaN)) lowestRow = row;
  }
  close(log.rows - 1);
  return found;
}

function areHeld({ log, restingS }: RowSurvey, fromRow: number, toRow: number): boolean {
  if (toRow - fromRow + 1 < heldRows) return false;
  for (let row = fromRow + 1; row <= toRow; row += 1) if (changes(log.cellVoltagesV, row)) return false;
  let before = 0;
  let changing = 0;
  for (let row = fromRow - 1; row > 0 && (restingS[row] ?? -1) > 0 && before < 10 * rowsBefore; row -= 1) {
    before += 1;
    if (changes(log.cellVoltagesV, row)) changing += 1;
  }
  return before >= rowsBefore && changing >= changingShare * before;
}

function changes(columns: readonly Float64Array[], row: number): boolean {
  return columns.some((column) => column[row] !== column[row - 1]);
}
