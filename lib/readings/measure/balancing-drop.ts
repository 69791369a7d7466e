import { median, scaledMad } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface BalancingDrop {
  readonly group: number;
  /** V by which the group reads lower while it is balanced: the balance current through both of its leads. */
  readonly dropV: number;
  readonly errorV: number;
  readonly changes: number;
}

/** Times a balancer must have switched before its drop is stated. Engineering default. */
const changesNeeded = 3;
/**
 * Rows on either side of a switching in which balancers keep still, and those next to it that are left out: boards switch
 * because of a reading that was high by chance, and log the command with the reading before or after.
 */
const stillRows = 4;
const leftOut = 1;

/**
 * What a group reads less while it is balanced than while it is not, from the moments at which its balancer alone
 * switches: the signature +x, -2x, +x of balance current through the leads, a property of the wiring and not of a cell.
 * Empty without a balancing mask, or where neighbours always switch together.
 */
export function balancingDrops(survey: RowSurvey): BalancingDrop[] {
  const { log, groups } = survey;
  const mask = log.balancingMask;
  if (mask === null) return [];
  const drops: number[][] = Array.from({ length: groups }, () => []);
  for (let row = stillRows; row + stillRows <= log.rows; row += 1) {
    const now = mask[row] ?? Number.NaN;
    const before = mask[row - 1] ?? Number.NaN;
    if (now === before || !Number.isFinite(now + before)) continue;
    for (let index = 0; index < groups; index += 1) {
      const turned = bit(now, index) - bit(before, index);
      if (turned === 0 || !switchesAlone(survey, mask, index, row)) continue;
      const fallV =
        level(survey, index, row - stillRows, row - leftOut) - level(survey, index, row + leftOut, row + stillRows);
      if (Number.isFinite(fallV)) drops[index]?.push(turned * fallV);
    }
  }
  return drops.flatMap((values, index) => {
    if (values.length < changesNeeded) return [];
    const error = (1.25 * (scaledMad(values) ?? 0)) / Math.sqrt(values.length);
    return [{ group: index + 1, dropV: median(values) ?? 0, errorV: error, changes: values.length }];
  });
}

/** Whether group and neighbours keep their balancers still around the row at which this one switches, without a gap. */
function switchesAlone({ intervalS }: RowSurvey, mask: Float64Array, index: number, row: number): boolean {
  for (let at = row - stillRows; at < row + stillRows; at += 1) {
    if (at > row - stillRows && (intervalS[at] ?? 0) === 0) return false;
    const as = at < row ? row - 1 : row;
    if (bit(mask[at] ?? Number.NaN, index) !== bit(mask[as] ?? Number.NaN, index)) return false;
    for (const beside of [index - 1, index + 1])
      if (bit(mask[at] ?? Number.NaN, beside) !== bit(mask[row] ?? Number.NaN, beside)) return false;
  }
  return true;
}

/** Mean deviation from the median group over rows `from` to before `to`, V. */
function level({ log, referenceV }: RowSurvey, index: number, from: number, to: number): number {
  let sum = 0;
  for (let row = from; row < to; row += 1)
    sum += (log.cellVoltagesV[index]?.[row] ?? Number.NaN) - (referenceV[row] ?? Number.NaN);
  return sum / (to - from);
}

/** 0 or 1; 0 for a group that is not there. */
function bit(mask: number, index: number): number {
  return index < 0 ? 0 : Math.floor(mask / 2 ** index) % 2;
}
