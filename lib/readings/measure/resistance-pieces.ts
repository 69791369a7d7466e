import { differenceSlope } from "@/lib/readings/measure/difference-slope";
import { steps } from "@/lib/readings/measure/group-resistance";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface ResistancePiece {
  readonly fromRow: number;
  readonly toRow: number;
  /** Excess of the group over the median group, milliohm, in this part of the log, at the whole log's mean temperature and charge. */
  readonly excessMilliohm: number;
  readonly errorMilliohm: number;
}

export interface ResistanceHistory {
  readonly pieces: readonly ResistancePiece[];
  /** Reduced chi square of a constant excess: about 1 where nothing changed but noise. */
  readonly unrest: number;
  readonly lowestMilliohm: number;
  readonly highestMilliohm: number;
}

/** Engineering defaults: load steps a piece needs, and pieces at most. */
const pairsPerPiece = 25;
const piecesAtMost = 12;

/** One group's excess resistance through the log: a cell ages smoothly, a joint steps. `null` for fewer than 3 pieces. */
export function resistanceHistory(survey: RowSurvey, rows: Int32Array, group: number): ResistanceHistory | null {
  const count = Math.min(piecesAtMost, Math.floor(rows.length / pairsPerPiece));
  const column = survey.log.cellVoltagesV[group - 1];
  if (count < 3 || column === undefined) return null;
  const amps = steps(rows, survey.log.currentA);
  const reference = steps(rows, survey.referenceV);
  const volts = steps(rows, column).map((volt, place) => volt - (reference[place] ?? Number.NaN));
  const whole = differenceSlope(amps, reference);
  const pieces: ResistancePiece[] = [];
  for (let piece = 0; piece < count; piece += 1) {
    const from = Math.floor((piece * rows.length) / count);
    const to = Math.floor(((piece + 1) * rows.length) / count);
    const slope = differenceSlope(amps.slice(from, to), volts.slice(from, to), 6);
    const median = differenceSlope(amps.slice(from, to), reference.slice(from, to));
    if (slope === null || slope.standardErrorOhm === 0 || whole === null || median === null || median.ohm <= 0)
      continue;
    // Warmth and charge change every group's resistance: the median group's own change is taken out.
    const scale = whole.ohm / median.ohm;
    pieces.push({
      fromRow: rows[from] ?? 0,
      toRow: rows[to - 1] ?? 0,
      excessMilliohm: slope.ohm * scale * 1000,
      errorMilliohm: slope.standardErrorOhm * scale * 1000,
    });
  }
  if (pieces.length < 3) return null;
  const weights = pieces.map((piece) => 1 / piece.errorMilliohm ** 2);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = pieces.reduce((sum, piece, at) => sum + piece.excessMilliohm * (weights[at] ?? 0), 0) / total;
  const chiSquare = pieces.reduce((sum, piece) => sum + ((piece.excessMilliohm - mean) / piece.errorMilliohm) ** 2, 0);
  const excesses = pieces.map((piece) => piece.excessMilliohm);
  return {
    pieces,
    unrest: chiSquare / (pieces.length - 1),
    lowestMilliohm: Math.min(...excesses),
    highestMilliohm: Math.max(...excesses),
  };
}
