import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";
import { onlyReadUntil } from "@/lib/readings/measure/collapse-excuses";
import { median } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/**
 * A group that falls against the median within minutes while the pack rests: an internal short shows like this.
 *
 * The pack voltage must fall with it. Where no pack voltage was logged, or it is too noisy to tell, the neighbours must
 * not rise in its stead (an open tap gives to one what it takes from the other) and the sign stays unconfirmed.
 */
export function groupCollapses(survey: RowSurvey, sumNoiseV: number, gates: AcuteGates): AcuteSign[] {
  const { log, restingS, referenceV } = survey;
  const signs: AcuteSign[] = [];
  const noiseV = { sum: sumNoiseV, isCurrentLogged: log.currentA.some(Number.isFinite) };
  // Row up to which what a group reads is known not to be its cells.
  const onlyRead = new Int32Array(survey.groups).fill(-1);
  let back = 0;
  for (let row = 1; row < log.rows; row += 1) {
    if (!((restingS[row] ?? -1) >= gates.fallSettledS) || !Number.isFinite(referenceV[row])) continue;
    const timeS = log.timeS[row] ?? 0;
    // One and the same rest: over a load in between a weak group may well have fallen.
    const withinS = Math.min(gates.groupFallS, restingS[row] ?? 0);
    while (
      back < row - 1 &&
      (timeS - (log.timeS[back] ?? 0) > withinS || !((restingS[back] ?? -1) >= 0) || !Number.isFinite(referenceV[back]))
    ) {
      back += 1;
    }
    if (survey.stretch[back] !== survey.stretch[row] || !((restingS[back] ?? -1) >= 0)) continue;
    const overS = timeS - (log.timeS[back] ?? 0);
    if (overS <= 0 || overS > withinS || !Number.isFinite(referenceV[back])) continue;
    // Cheap test first: no group can have fallen while the lowest one has not.
    const lowestFall = (survey.lowestV[row] ?? 0) - (referenceV[row] ?? 0);
    if (lowestFall > -gates.groupFallV && survey.plausibleGroups[row] === survey.groups) continue;
    for (let index = 0; index < survey.groups; index += 1) {
      if (row <= (onlyRead[index] ?? -1)) continue;
      const sign = collapseOf(survey, index, back, row, noiseV, gates);
      if (sign === null) continue;
      const until = sign.confirmed ? null : onlyReadUntil(survey, index, row, sign.before, sign.before - sign.after);
      if (until === null) return [sign];
      onlyRead[index] = until;
    }
  }
  return signs;
}

function collapseOf(
  survey: RowSurvey,
  index: number,
  back: number,
  row: number,
  noiseV: { readonly sum: number; readonly isCurrentLogged: boolean },
  gates: AcuteGates,
): AcuteSign | null {
  const before = deviation(survey, index, back);
  const after = deviation(survey, index, row);
  const fallV = before - after;
  if (!(fallV >= gates.groupFallV) || Math.abs(before) > gates.groupFallV) return null;
  // The group itself must fall: a reading that is held lags behind others that recover from a load, and nothing collapsed.
  const column = survey.log.cellVoltagesV[index];
  if (!((column?.[back] ?? Number.NaN) - (column?.[row] ?? Number.NaN) >= gates.collapseOwnShare * fallV)) return null;
  for (let later = row + 1; later <= Math.min(row + gates.collapseRows, survey.log.rows - 1); later += 1) {
    if ((survey.restingS[later] ?? -1) >= 0 && before - deviation(survey, index, later) < 0.5 * gates.groupFallV)
      return null;
  }
  const packFallV =
    (survey.log.packVoltageV[back] ?? Number.NaN) -
    (survey.log.packVoltageV[row] ?? Number.NaN) -
    ((survey.referenceV[back] ?? 0) - (survey.referenceV[row] ?? 0)) * survey.groups;
  const packTells = Number.isFinite(packFallV) && 4 * noiseV.sum < fallV;
  // Where a current was logged it is enough that some groups are not read yet, for the next reading of all of them decides:
  // a group that collapses leaves the others where they were, a load takes them all down.
  const times = noiseV.isCurrentLogged ? 1 : gates.unreadLoadTimes;
  const load = { times, noiseV: 4 * noiseV.sum, keptShare: gates.unreadLoadShare };
  // A value that is repeated shows the load of the row it was read in, though the pack has risen again since.
  const rowsOfLoad = noiseV.isCurrentLogged ? [row] : [row, readIn(survey, index, back, row)];
  if (rowsOfLoad.some((at) => isUnreadLoad(survey, back, at, load))) {
    if (!noiseV.isCurrentLogged) return null;
    const anew = allReadAnew(survey, back, row);
    if (anew !== null && isFallOfAll(survey, back, anew, gates.collapseOwnShare)) return null;
  }
  if (isTapAmongReadAlike(survey, index, back, row, gates)) return null;
  // What an open tap takes from one group it gives to a neighbour.
  const given = Math.max(
    ...[index - 1, index + 1].map((at) => deviation(survey, at, row) - deviation(survey, at, back) || 0),
  );
  if (given > gates.collapseNeighbourShare * fallV) return null;
  if (packTells ? packFallV < gates.collapsePackShare * fallV : fallV < 2 * gates.groupFallV) return null;
  return {
    kind: "group-collapse",
    row,
    groups: [index + 1],
    before,
    after,
    overS: (survey.log.timeS[row] ?? 0) - (survey.log.timeS[fallenFrom(survey, index, back, row)] ?? 0),
    where: "",
    confirmed: packTells,
  };
}

/** Last row before the fall in which the group stood within a tenth of it of where it began: a step between two rows is no fall of 15 min. */
function fallenFrom(survey: RowSurvey, index: number, back: number, row: number): number {
  const before = deviation(survey, index, back);
  const fallV = before - deviation(survey, index, row);
  for (let at = row - 1; at > back; at -= 1) if (before - deviation(survey, index, at) <= 0.1 * fallV) return at;
  return back;
}

/** Row after `back` in which the group last showed another value than before; `row` where it did in none. */
function readIn({ log: { cellVoltagesV } }: RowSurvey, index: number, back: number, row: number): number {
  const column = cellVoltagesV[index];
  for (let at = row; at > back; at -= 1) if (column?.[at] !== column?.[at - 1]) return at;
  return row;
}

/**
 * A board that refreshes a few groups at a time shows a load in some of them before the others: the pack voltage has then fallen by far more
 * than all groups together. Where no current was logged that load may be the first moment of one; where one was, it came and went between
 * two rows, and whether the group stands off by itself is told once all groups were read anew. Not asked of rows in which a group gives no
 * sensible value: an emergency loses groups.
 */
function isUnreadLoad(
  { log, plausibleGroups, groups }: RowSurvey,
  back: number,
  row: number,
  { times, noiseV, keptShare }: { readonly times: number; readonly noiseV: number; readonly keptShare: number },
): boolean {
  if (plausibleGroups[row] !== groups || plausibleGroups[back] !== groups) return false;
  let fellV = 0;
  for (const column of log.cellVoltagesV) fellV += Math.max(0, (column[back] ?? 0) - (column[row] ?? 0));
  const before = log.packVoltageV[back] ?? Number.NaN;
  const now = log.packVoltageV[row] ?? Number.NaN;
  return before - now > times * fellV + noiseV && now >= keptShare * before;
}

/** Whether the group in the middle fell by its share of what the pack fell by. */
function isFallOfAll({ log, referenceV, groups }: RowSurvey, back: number, anew: number, share: number): boolean {
  const packV = (log.packVoltageV[back] ?? Number.NaN) - (log.packVoltageV[anew] ?? Number.NaN);
  return (referenceV[back] ?? Number.NaN) - (referenceV[anew] ?? Number.NaN) >= (share * packV) / groups;
}

/** Groups read in one go beside which a fall is judged. Engineering default. */
const readAlikeNeeded = 2;

/**
 * A board that refreshes a few groups at a time shows a load in some of them while the group in the middle still repeats its value. Against those
 * read in the same row an open tap shows as one: what the group lost beyond them its neighbour has won, or it lost no more than they did.
 */
function isTapAmongReadAlike(
  { log: { cellVoltagesV } }: RowSurvey,
  index: number,
  back: number,
  row: number,
  gates: AcuteGates,
): boolean {
  const changed = cellVoltagesV.map((column) => (column[row] ?? Number.NaN) - (column[back] ?? Number.NaN));
  const isRead = (at: number) =>
    Number.isFinite(changed[at]) && cellVoltagesV[at]?.[row] !== cellVoltagesV[at]?.[row - 1];
  const others = changed.filter((_, at) => at !== index && isRead(at));
  if (!isRead(index) || others.length < readAlikeNeeded || others.length === cellVoltagesV.length - 1) return false;
  const usual = median(others) ?? 0;
  const lostV = usual - (changed[index] ?? 0);
  const wonV = Math.max(...[index - 1, index + 1].filter(isRead).map((at) => (changed[at] ?? 0) - usual));
  return lostV < gates.groupFallV || wonV > gates.collapseNeighbourShare * lostV;
}

/** First row from this one on, in the same rest, by which every group has shown another value since `back`; null where the rest ends first. */
function allReadAnew({ log, restingS, stretch }: RowSurvey, back: number, row: number): number | null {
  let held = log.cellVoltagesV;
  for (let later = back + 1; later < log.rows; later += 1) {
    if (!((restingS[later] ?? -1) >= 0) || stretch[later] !== stretch[row]) return null;
    held = held.filter((column) => column[later] === column[later - 1]);
    if (held.length === 0 && later >= row) return later;
  }
  return null;
}

/** V of a group, by its place, against the median group. NaN where the frame was cut off: exact zeros from some group to the last are no voltages. */
export function deviation(survey: RowSurvey, index: number, row: number): number {
  const column = survey.log.cellVoltagesV[index];
  if (column?.[row] === 0 && survey.log.cellVoltagesV.at(-1)?.[row] === 0) return Number.NaN;
  return column === undefined ? 0 : (column[row] ?? Number.NaN) - (survey.referenceV[row] ?? Number.NaN);
}
