import { differenceSlope } from "@/lib/readings/measure/difference-slope";
import { median, scaledMad } from "@/lib/readings/measure/median";
import { columnResolution } from "@/lib/readings/measure/resolution";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Sum of the groups against the pack voltage, in pieces of the log. */
export interface PackSum {
  readonly outcome: "measured" | "no pack voltage";
  /** Sum - pack voltage without current, V: the pack's own baseline (0.00, -2.74 and -3.67 V in three open vehicle packs). */
  readonly baselineV: number;
  readonly noiseV: number;
  /** Resistance between the groups and the pack voltage's measuring points (leads, switches, shunt), ohm. */
  readonly outsideOhm: number;
  /** Of the whole log; infinite where its load does not change. */
  readonly outsideErrorOhm: number;
  /** What rounding of groups and pack voltage leaves on the difference, V; at rest it does not average out. */
  readonly roundingV: number;
  readonly pieces: readonly PackSumPiece[];
}

export interface PackSumPiece {
  readonly fromRow: number;
  readonly toRow: number;
  readonly rows: number;
  readonly baselineV: number;
  readonly baselineErrorV: number;
  /** From this piece alone; the error is infinite where its load does not change. */
  readonly outsideOhm: number;
  readonly outsideErrorOhm: number;
}

/** Engineering defaults: pieces the log is cut into, rows looked at in each. */
const piecesWanted = 40;
const rowsPerPiece = 400;
/** Share of the sum of the groups below which a pack voltage says that the output is off. Engineering default. */
export const outputOff = 0.5;
/** V. A piece tells its own slope where that leaves its baseline known to this. */
const toldWithinV = 0.003;

/**
 * Regression of (sum of groups - pack voltage) on current, for the whole log and piece by piece.
 *
 * A step of the baseline is a measurement, a change of the slope is a lead. Judge the change, never the value: the
 * baseline differs by volts between sound packs.
 */
export function packSum(survey: RowSurvey): PackSum {
  const { log, sumV } = survey;
  const all = new Int32Array(log.rows);
  let count = 0;
  // A row that lacks its current is no row without load.
  const currentKnown = log.currentA.some(Number.isFinite);
  for (let row = 0; row < log.rows; row += 1) {
    if (currentKnown && !Number.isFinite(log.currentA[row])) continue;
    if ((log.packVoltageV[row] ?? Number.NaN) > outputOff * (sumV[row] ?? Number.NaN)) {
      all[count] = row;
      count += 1;
    }
  }
  if (count < rowsNeeded) {
    return {
      outcome: "no pack voltage",
      baselineV: 0,
      noiseV: Number.POSITIVE_INFINITY,
      outsideOhm: 0,
      outsideErrorOhm: Number.POSITIVE_INFINITY,
      roundingV: 0,
      pieces: [],
    };
  }
  const rows = all.subarray(0, count);
  const roundingV = roundingOf(survey);
  const whole = fitRows(survey, thin(rows, piecesWanted * rowsPerPiece), null, roundingV);
  const size = Math.max(Math.ceil(count / piecesWanted), rowsNeeded);
  const parts: Int32Array[] = [];
  for (let from = 0; from + rowsNeeded / 2 <= count; from += size) parts.push(rows.subarray(from, from + size));
  const outsideOhm = slopeOverParts(survey, parts, roundingV) ?? whole.outsideOhm;
  const pieces = parts.map((members): PackSumPiece => {
    const fit = fitRows(survey, thin(members, rowsPerPiece), outsideOhm, roundingV);
    return { fromRow: members[0] ?? 0, toRow: members.at(-1) ?? 0, rows: members.length, ...fit };
  });
  return { outcome: "measured", ...whole, outsideOhm, roundingV, pieces };
}

/**
 * Slope from the parts of the log, weighted by what each knows: a baseline that steps between two parts would tilt a
 * single line through all of them. `null` where no part has load of its own.
 */
function slopeOverParts(survey: RowSurvey, parts: readonly Int32Array[], roundingV: number): number | null {
  let weights = 0;
  let sum = 0;
  for (const members of parts) {
    const { outsideOhm, outsideErrorOhm } = fitRows(survey, thin(members, rowsPerPiece), null, roundingV);
    if (!(outsideErrorOhm > 0 && outsideErrorOhm < toldOhm)) continue;
    const weight = 1 / outsideErrorOhm ** 2;
    weights += weight;
    sum += weight * outsideOhm;
  }
  return weights > 0 ? sum / weights : null;
}

/** ohm. A part that knows its slope no better says nothing. Engineering default. */
const toldOhm = 0.003;

/** Rows of one piece at least. Engineering default. */
const rowsNeeded = 20;

function fitRows(survey: RowSurvey, rows: Int32Array, wholeOhm: number | null, roundingV: number) {
  const amps = Float64Array.from(rows, (row) => survey.log.currentA[row] || 0);
  const shift = Float64Array.from(
    rows,
    (row) => (survey.sumV[row] ?? Number.NaN) - (survey.log.packVoltageV[row] ?? Number.NaN),
  );
  const slope = differenceSlope(amps, shift, 6);
  const centre = signedMean(amps);
  const mean = Math.abs(centre);
  const spread = Math.sqrt(amps.reduce((total, amp) => total + (amp - centre) ** 2, 0) / Math.max(1, amps.length));
  const rounding = spread > 0 ? roundingV / (spread * Math.sqrt(Math.min(rows.length, changesThatAverage))) : 0;
  // What changes by less than counts as rest is the sensor's noise: a line through it is flat whatever the leads are.
  const told = slope !== null && spread > survey.restCurrentA;
  const error = told ? Math.hypot(slope.standardErrorOhm, rounding) : Number.POSITIVE_INFINITY;
  // At constant current slope and baseline cannot be told apart: the whole log's slope is taken, with a doubt of 30 %.
  const own = slope !== null && (wholeOhm === null || error * Math.max(mean, survey.restCurrentA) < toldWithinV);
  const outsideOhm = own ? -slope.ohm : (wholeOhm ?? 0);
  const left = shift.map((volt, at) => volt + outsideOhm * (amps[at] ?? 0));
  const noiseV = scaledMad(left) ?? Number.POSITIVE_INFINITY;
  const doubtV = own ? error * mean : 0.3 * Math.abs(outsideOhm) * mean;
  return {
    baselineV: median(left) ?? 0,
    noiseV,
    baselineErrorV: Math.hypot((1.25 * noiseV) / Math.sqrt(rows.length), doubtV, roundingV),
    outsideOhm: slope === null ? outsideOhm : -slope.ohm,
    outsideErrorOhm: error,
  };
}

/** Loads over which rounding is taken to average out. Engineering default. */
const changesThatAverage = 10;

function signedMean(amps: Float64Array): number {
  return amps.reduce((total, amp) => total + amp, 0) / Math.max(1, amps.length);
}

/** Uniform rounding error, resolution / sqrt(12), of the pack voltage and of the groups together. */
function roundingOf(survey: RowSurvey): number {
  const groups = median(survey.resolutionV) ?? 0;
  const pack = columnResolution(survey.log.packVoltageV);
  return Math.hypot(pack, groups * Math.sqrt(survey.groups)) / Math.sqrt(12);
}

function thin(rows: Int32Array, wanted: number): Int32Array {
  const stride = Math.max(1, Math.ceil(rows.length / wanted));
  return Int32Array.from({ length: Math.ceil(rows.length / stride) }, (_, place) => rows[place * stride] ?? 0);
}
