import { quantile } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface FrozenRun {
  readonly group: number;
  readonly fromRow: number;
  readonly toRow: number;
  readonly durationS: number;
  /** What the median group moved meanwhile, V. */
  readonly othersMovedV: number;
}

/** Engineering defaults: samples in a run, and what the others must have moved meanwhile, V. */
const longestSoundRun = 20;
const othersMoveV = 0.04;
/** Repeats of the movement needed when it is only load that moves the others, and turns of it: load moves to and fro. Engineering defaults. */
const repeats = 3;
const turns = 3;
/** Share of what the others moved in one direction alone by which a reading that was stuck leaps when it comes to life again. Engineering default. */
const leapShare = 0.5;

/** Rows without any flicker that give a group away while the others flicker; shares of groups and of rows that do. */
const longQuietRun = 120;
/** What the median group must have moved over a quiet run: steps of the resolution, and V. Engineering defaults. */
const quietSteps = 4;
const leastQuietMoveV = 0.008;
const flickeringGroups = 0.95;
const flickeringRows = 0.3;

/**
 * Groups whose reading stays bit-identical over more than 20 rows while the median group moves by 40 mV or more and back
 * several times, or moves away and the reading leaps after it at the end of the run, or over more than 120 rows while the last digit
 * of nearly every other group flickers: a monitor that repeats an old value. Where the others only move away, a group that is charged
 * otherwise may lie on the flat of its curve while they climb: its reading then goes on where it was. The longest run of each
 * group is returned.
 */
export function frozenRuns(survey: RowSurvey): FrozenRun[] {
  return survey.log.cellVoltagesV.flatMap((column, index) => longestFrozen(survey, column, index + 1) ?? []);
}

/** Rows from one look to the next: a run that is too long holds two looks in a row, wherever it begins. */
const rowsBetweenLooks = longestSoundRun / 2;

function longestFrozen(survey: RowSurvey, column: Float64Array, group: number): FrozenRun | null {
  const { segment } = survey.log;
  let best: FrozenRun | null = null;
  let look = rowsBetweenLooks;
  while (look < column.length) {
    // A missing value is like no other, not even like the next missing one.
    if (column[look] !== column[look - rowsBetweenLooks]) {
      look += rowsBetweenLooks;
      continue;
    }
    const start = runStart(column, segment, look);
    const end = start > look - rowsBetweenLooks ? look : runEnd(column, segment, look);
    if (end - start >= longestSoundRun) best = longerOf(best, judge(survey, group, start, end));
    look = end + rowsBetweenLooks;
  }
  return best;
}

/** First row of the run of like values of one clock that a row lies in. */
function runStart(column: Float64Array, segment: Int32Array, row: number): number {
  const value = column[row] ?? Number.NaN;
  let start = row;
  while (start > 0 && column[start - 1] === value && segment[start - 1] === segment[row]) start -= 1;
  return start;
}

function runEnd(column: Float64Array, segment: Int32Array, row: number): number {
  const value = column[row] ?? Number.NaN;
  const last = column.length - 1;
  let end = row;
  while (end < last && column[end + 1] === value && segment[end + 1] === segment[row]) end += 1;
  return end;
}

/** The first of two that last equally long. */
function longerOf(first: FrozenRun | null, second: FrozenRun | null): FrozenRun | null {
  return second !== null && (first === null || second.durationS > first.durationS) ? second : first;
}

function judge(survey: RowSurvey, group: number, fromRow: number, toRow: number): FrozenRun | null {
  // Without its extremes: one loaded row at an end of the run is no movement of the run.
  const within = survey.referenceV.subarray(fromRow, toRow + 1);
  const low = quantile(within, 0.04, 5000) ?? 0;
  const high = quantile(within, 0.96, 5000) ?? 0;
  const othersMovedV = high - low;
  const { moves, turned } = movementOf(survey.referenceV, fromRow, toRow);
  const moved =
    othersMovedV >= othersMoveV &&
    moves > repeats &&
    (turned >= turns || leapsAlone(survey, group, toRow, leapShare * othersMovedV));
  if (!moved && !isLeftBehind(survey, group, fromRow, toRow, othersMovedV)) return null;
  const durationS = (survey.log.timeS[toRow] ?? 0) - (survey.log.timeS[fromRow] ?? 0);
  return { group, fromRow, toRow, durationS, othersMovedV };
}

/** How often the median group moved by half of what the others must move, and how often it turned round after such a move. */
function movementOf(referenceV: Float64Array, fromRow: number, toRow: number): { moves: number; turned: number } {
  let moves = 0;
  let last = Number.NaN;
  let turned = 0;
  let direction = 0;
  let farthest = Number.NaN;
  for (let row = fromRow; row <= toRow; row += 1) {
    const volt = referenceV[row] ?? Number.NaN;
    if (!Number.isFinite(volt)) continue;
    if (!(Math.abs(volt - last) < othersMoveV / 2)) {
      moves += 1;
      last = volt;
    }
    const apart = volt - farthest;
    if (Number.isNaN(apart) || apart * direction > 0) farthest = volt;
    else if (Math.abs(apart) >= othersMoveV / 2) {
      if (direction !== 0) turned += 1;
      direction = Math.sign(apart);
      farthest = volt;
    }
  }
  return { moves, turned };
}

/** Whether the reading leaps by so many V, more than the median group does, from the run to the row after it on the same clock. */
function leapsAlone({ log, referenceV }: RowSurvey, group: number, toRow: number, leastV: number): boolean {
  const column = log.cellVoltagesV[group - 1] ?? new Float64Array();
  const isOn = toRow + 1 < column.length && log.segment[toRow + 1] === log.segment[toRow];
  const stepOf = (values: Float64Array) => (values[toRow + 1] ?? Number.NaN) - (values[toRow] ?? Number.NaN);
  return isOn && Math.abs(stepOf(column) - stepOf(referenceV)) >= leastV;
}

/** Quiet for long while the others moved and flickered. The dear questions come last: a long rest is full of short runs. */
function isLeftBehind(survey: RowSurvey, group: number, fromRow: number, toRow: number, othersMovedV: number): boolean {
  if (othersMovedV < leastQuietMoveV || toRow - fromRow < longQuietRun) return false;
  // A quiet channel may sit in the middle of one step of its resolution while its neighbours flicker at the edge of theirs.
  const steps = quietSteps * (survey.resolutionV[group - 1] ?? 0);
  return othersMovedV >= steps && othersFlicker(survey, group, fromRow, toRow);
}

function othersFlicker(survey: RowSurvey, group: number, fromRow: number, toRow: number): boolean {
  const until = Math.min(toRow, fromRow + 500);
  let flickering = 0;
  for (const [index, column] of survey.log.cellVoltagesV.entries()) {
    if (index === group - 1) continue;
    let changes = 0;
    for (let row = fromRow + 1; row <= until; row += 1) if (column[row] !== column[row - 1]) changes += 1;
    if (changes >= flickeringRows * (until - fromRow)) flickering += 1;
  }
  return flickering >= flickeringGroups * (survey.groups - 1) && survey.groups > 3;
}
