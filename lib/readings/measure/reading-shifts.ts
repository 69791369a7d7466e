import { median, scaledMad } from "@/lib/readings/measure/median";
import type { PackSum, PackSumPiece } from "@/lib/readings/measure/pack-sum";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Groups whose readings moved together while the pack voltage did not follow. */
export interface ReadingShift {
  readonly kind: "step" | "standing";
  readonly groups: readonly number[];
  /** V per group. */
  readonly shiftV: number;
  /** Change of (sum of groups - pack voltage), V. */
  readonly sumChangeV: number;
  readonly row: number;
}

/** Engineering defaults: smallest shift per group, V; agreement of the sum with the groups moved. */
const leastShiftV = 0.012;
const agreement = 0.35;
/** A standing difference is a pack's own baseline as often as a fault: it must fit better. */
const standingAgreement = 0.15;
/** Multiple of its error a step of the sum must reach. */
const sigmas = 5;
/** Multiple of the rounding error, which rests keep, a step must exceed. */
const roundings = 3;
/** V. Pieces whose baseline is known no better are left out. */
const doubtfulV = 0.15;

/**
 * Steps of the sum baseline explained by one group or a run of neighbouring groups, and standing shifts of a run of
 * neighbours that the baseline repeats. A real change of cells moves the pack voltage too and leaves the sum alone. Where
 * groups and current were not sampled together, the load's share of the difference is unknown and only rests count.
 */
export function readingShifts(survey: RowSurvey, sum: PackSum, sampledTogether: boolean): ReadingShift[] {
  // Without current the load's share of the difference is unknown, and a step proves nothing.
  const known = survey.log.currentA.findIndex(Number.isFinite) >= 0;
  if (!known || sum.outcome !== "measured") return [];
  const told = sampledTogether ? sum.pieces : sum.pieces.filter((piece) => isRest(survey, piece));
  const step = largestStep(survey, told, sum.roundingV);
  if (step !== null) return [step];
  const standing = standingShift(survey, sum);
  return standing === null ? [] : [standing];
}

/** Share of resting rows from which a part of the log is a rest. Engineering default. */
const restShare = 0.9;

function isRest({ restingS }: RowSurvey, { fromRow, toRow }: PackSumPiece): boolean {
  let resting = 0;
  for (let row = fromRow; row <= toRow; row += 1) if ((restingS[row] ?? -1) >= 0) resting += 1;
  return resting >= restShare * (toRow - fromRow + 1);
}

function largestStep(survey: RowSurvey, told: readonly PackSumPiece[], roundingV: number): ReadingShift | null {
  const pieces = told.filter((piece) => piece.baselineErrorV <= doubtfulV);
  let best: ReadingShift | null = null;
  let bestMisfit = Number.POSITIVE_INFINITY;
  for (let cut = 2; cut <= pieces.length - 2; cut += 1) {
    const before = pieces.slice(Math.max(0, cut - 4), cut);
    const after = pieces.slice(cut, cut + 4);
    const change =
      (median(after.map((piece) => piece.baselineV)) ?? 0) - (median(before.map((piece) => piece.baselineV)) ?? 0);
    const wander = scaledMad(pieces.slice(1).map((piece, at) => piece.baselineV - (pieces[at]?.baselineV ?? 0))) ?? 0;
    const doubt = median([...before, ...after].map((piece) => piece.baselineErrorV)) ?? 0;
    const error = Math.hypot(wander, doubt) / Math.sqrt(Math.min(before.length, after.length));
    if (Math.abs(change) < Math.max(leastShiftV, sigmas * error, roundings * roundingV)) continue;
    const row = pieces[cut]?.fromRow ?? 0;
    const found = groupsThatMoved(survey, before.at(0)?.fromRow ?? 0, row, after.at(-1)?.toRow ?? row, change);
    if (found === null || found.misfit >= bestMisfit) continue;
    if (found.groups.length === 1 && Math.abs(found.shiftV) < leastLoneShiftV) continue;
    const abrupt = found.groups.every((group) =>
      stepsAtOnce(survey, group, before.at(-1)?.fromRow ?? 0, after.at(0)?.toRow ?? row, found.shiftV),
    );
    if (!abrupt) continue;
    bestMisfit = found.misfit;
    best = { kind: "step", groups: found.groups, shiftV: found.shiftV, sumChangeV: change, row };
  }
  return best;
}

function groupsThatMoved(survey: RowSurvey, from: number, cut: number, to: number, change: number) {
  const moved = survey.log.cellVoltagesV.map(
    (column) => levelOf(survey, column, cut, to) - levelOf(survey, column, from, cut),
  );
  return clusterOf(moved, change);
}

/** Rows on either side of a step whose median must differ, and the share of the shift by which. Engineering defaults. */
const rowsBeside = 4;
const atOnceShare = 0.6;

/** A reading steps between two rows; a cell drifts apart along its curve. */
function stepsAtOnce(survey: RowSurvey, group: number, from: number, to: number, shiftV: number): boolean {
  const column = survey.log.cellVoltagesV[group - 1];
  if (column === undefined) return false;
  for (let row = from + rowsBeside; row + rowsBeside <= to; row += 1) {
    const jump = levelOf(survey, column, row, row + rowsBeside) - levelOf(survey, column, row - rowsBeside, row);
    if (jump * Math.sign(shiftV) >= atOnceShare * Math.abs(shiftV)) return true;
  }
  return false;
}

/** Typical deviation from the median group between two rows, V. */
function levelOf(survey: RowSurvey, column: Float64Array, from: number, to: number): number {
  const stride = Math.max(1, Math.floor((to - from) / 300));
  const sample: number[] = [];
  for (let row = from; row < to; row += stride)
    sample.push((column[row] ?? Number.NaN) - (survey.referenceV[row] ?? Number.NaN));
  return median(sample) ?? Number.NaN;
}

/** V. One channel alone is shifted as much by its balancer's lead. Engineering default. */
const leastLoneShiftV = 0.04;

interface Cluster {
  readonly groups: number[];
  readonly shiftV: number;
  /** How badly the shift explains groups and sum; 0 is perfect. */
  readonly misfit: number;
}

/** The run of neighbours that stands apart from the rest by the same amount and adds up to the change of the sum. */
function clusterOf(levels: readonly number[], change: number, agrees = agreement): Cluster | null {
  const count = levels.length;
  let best: Cluster | null = null;
  let bestMisfit = Number.POSITIVE_INFINITY;
  for (let from = 0; from < count; from += 1) {
    for (let to = from; to < count && to - from < count - 2; to += 1) {
      const inside = levels.slice(from, to + 1);
      const outside = [...levels.slice(0, from), ...levels.slice(to + 1)];
      const shiftV = (median(inside) ?? 0) - (median(outside) ?? 0);
      if (Math.abs(shiftV) < leastShiftV) continue;
      if (Math.abs(shiftV * inside.length - change) > agrees * Math.abs(change)) continue;
      const middleIn = median(inside) ?? 0;
      const middleOut = median(outside) ?? 0;
      const misfit =
        (inside.reduce((total, one) => total + Math.abs(one - middleIn), 0) +
          outside.reduce((total, one) => total + Math.abs(one - middleOut), 0)) /
        count;
      if (misfit < bestMisfit && misfit < 0.3 * Math.abs(shiftV)) {
        bestMisfit = misfit;
        best = {
          groups: inside.map((_, place) => from + place + 1),
          shiftV,
          misfit: misfit / Math.abs(shiftV) + Math.abs(shiftV * inside.length - change) / Math.abs(change),
        };
      }
    }
  }
  return best;
}

function standingShift(survey: RowSurvey, sum: PackSum): ReadingShift | null {
  if (sum.outcome !== "measured") return null;
  const levels = survey.log.cellVoltagesV.map((column) => levelOf(survey, column, 0, survey.log.rows));
  if (Math.abs(sum.baselineV) < Math.max(3 * leastShiftV, 2 * sum.noiseV)) return null;
  const found = clusterOf(levels, sum.baselineV, standingAgreement);
  // The larger part of a pack cannot be the odd one out.
  if (found === null || found.groups.length < 3 || found.groups.length > survey.groups / 2) return null;
  return { kind: "standing", groups: found.groups, shiftV: found.shiftV, sumChangeV: sum.baselineV, row: 0 };
}
