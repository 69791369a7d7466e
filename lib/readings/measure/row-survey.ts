import { everyNth, noiseRows } from "@/lib/readings/measure/every-nth";
import { defaultMeasureGates, type MeasureGates } from "@/lib/readings/measure/measure-gates";
import { median, scaledMad } from "@/lib/readings/measure/median";
import { readPlausibleRows } from "@/lib/readings/measure/plausible-rows";
import { columnResolution } from "@/lib/readings/measure/resolution";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { gapLimitS } from "@/lib/readings/time-gaps";

/** What every measurement needs to know about each row, worked out once. */
export interface RowSurvey {
  readonly log: ReadingLog;
  readonly gates: MeasureGates;
  readonly groups: number;
  readonly ratedCapacityAh: number;
  /** s since the row before; 0 for the first row, a repeated time, a gap or another clock segment. */
  readonly intervalS: Float64Array;
  readonly medianIntervalS: number;
  /** Median of the plausible groups, V; NaN where fewer than half of them are plausible. */
  readonly referenceV: Float64Array;
  /** Sum of the groups, V; NaN unless all are plausible. */
  readonly sumV: Float64Array;
  readonly plausibleGroups: Uint16Array;
  /** Smallest step between values of each group, V: what it was logged with. Group 1 first. */
  readonly resolutionV: Float64Array;
  readonly lowestV: Float64Array;
  readonly highestV: Float64Array;
  readonly restCurrentA: number;
  /** s of rest up to this row; -1 where the pack is not resting or the current is unknown. */
  readonly restingS: Float64Array;
  /** Net charge since the start of the stretch, Ah. */
  readonly chargeAh: Float64Array;
  /** Rows of one stretch hang together by charge: no unknown use lies between them. */
  readonly stretch: Int32Array;
}

/** One pass over the rows and one over the groups; O(rows · groups). */
export function surveyRows(log: ReadingLog, ratedCapacityAh: number, gates = defaultMeasureGates): RowSurvey {
  const intervalS = usableIntervals(log);
  const reference = readPlausibleRows(log.cellVoltagesV, log.rows, gates.cellPlausibleV);
  const restCurrentA = restCurrent(log.currentA, gates.restCurrentPerHour * ratedCapacityAh);
  return {
    log,
    gates,
    groups: log.cellVoltagesV.length,
    ratedCapacityAh,
    ...intervalS,
    ...reference,
    resolutionV: Float64Array.from(log.cellVoltagesV, columnResolution),
    restCurrentA,
    ...followCharge(log, intervalS.intervalS, reference.referenceV, restCurrentA, gates.parkedChangeV),
  };
}

/** Scatter of a noisy sensor at rest must not end a rest: multiple of it, and how far the limit may be raised by it. */
const noiseMultiple = 5.5;
const raisedAtMost = 3;

/**
 * A. The gate, or more where the sensor's own noise around zero needs more. Noise is what changes from row to row: a
 * small current that flows for long is a current, not noise. Engineering defaults.
 */
function restCurrent(currentA: Float64Array, gateA: number): number {
  const stride = Math.max(1, Math.ceil(currentA.length / noiseRows));
  const changes: number[] = [];
  for (let row = 1; row < currentA.length; row += stride) {
    const now = currentA[row] ?? Number.NaN;
    const before = currentA[row - 1] ?? Number.NaN;
    if (Math.abs(now) <= raisedAtMost * gateA && Math.abs(before) <= raisedAtMost * gateA) changes.push(now - before);
  }
  const noiseA = changes.length < 100 ? 0 : (scaledMad(changes) ?? 0) / Math.SQRT2;
  return Math.min(raisedAtMost * gateA, Math.max(gateA, noiseMultiple * noiseA));
}

function usableIntervals(log: ReadingLog) {
  const gapS = gapLimitS(log.timeS, log.segment);
  const intervalS = new Float64Array(log.rows);
  for (let row = 1; row < log.rows; row += 1) {
    const seconds = (log.timeS[row] ?? 0) - (log.timeS[row - 1] ?? 0);
    if (log.segment[row] === log.segment[row - 1] && seconds > 0 && seconds <= gapS) intervalS[row] = seconds;
  }
  const sampled = everyNth(intervalS, Math.ceil(log.rows / intervalsLookedAt)).map((seconds) =>
    seconds > 0 ? seconds : Number.NaN,
  );
  return { intervalS, medianIntervalS: median(sampled) ?? 0 };
}

/** Intervals looked at for the usual one. Engineering default. */
const intervalsLookedAt = 50_000;

/** V from row to row within which a pack without a logged current is taken to rest, where its readings are quiet. Engineering default. */
const quietV = 0.005;

/** V. More where the readings themselves scatter more: noise from row to row is no load. */
function quietChange(referenceV: Float64Array): number {
  const stride = Math.max(1, Math.ceil(referenceV.length / noiseRows));
  const changes: number[] = [];
  for (let row = 1; row < referenceV.length; row += stride) {
    const change = (referenceV[row] ?? Number.NaN) - (referenceV[row - 1] ?? Number.NaN);
    if (Math.abs(change) <= raisedAtMost * quietV) changes.push(change);
  }
  const scatterV = changes.length < 100 ? 0 : (scaledMad(changes) ?? 0);
  return Math.min(raisedAtMost * quietV, Math.max(quietV, noiseMultiple * scatterV));
}

function followCharge(
  log: ReadingLog,
  intervalS: Float64Array,
  referenceV: Float64Array,
  restCurrentA: number,
  parkedChangeV: number,
) {
  const restingS = new Float64Array(log.rows).fill(-1);
  const chargeAh = new Float64Array(log.rows);
  const stretch = new Int32Array(log.rows);
  const currentKnown = log.currentA.some(Number.isFinite);
  const quiet = currentKnown ? quietV : quietChange(referenceV);
  let lastVoltage = Number.NaN;
  for (let row = 0; row < log.rows; row += 1) {
    const current = log.currentA[row] ?? Number.NaN;
    const voltage = referenceV[row] ?? Number.NaN;
    // Without a current the voltage must do: a pack under changing load does not keep it.
    const resting = currentKnown ? Math.abs(current) <= restCurrentA : Math.abs(voltage - lastVoltage) <= quiet;
    if (row === 0) {
      restingS[row] = resting ? 0 : -1;
    } else {
      const before = log.currentA[row - 1] ?? Number.NaN;
      const seconds = intervalS[row] ?? 0;
      const elapsed = (log.timeS[row] ?? 0) - (log.timeS[row - 1] ?? 0);
      const rested = restingS[row - 1] ?? -1;
      const sameClock = log.segment[row] === log.segment[row - 1];
      // A logger that slept while the pack was parked: charge is unchanged although the interval is a gap.
      const parked = sameClock && resting && rested >= 0 && !(Math.abs(voltage - lastVoltage) > parkedChangeV);
      const joined = seconds > 0 || elapsed === 0 || parked;
      const moved = seconds > 0 && !parked ? (((before + current) / 2) * seconds) / 3600 : 0;
      chargeAh[row] = joined ? (chargeAh[row - 1] ?? 0) + (Number.isFinite(moved) ? moved : 0) : 0;
      stretch[row] = (stretch[row - 1] ?? 0) + (joined ? 0 : 1);
      restingS[row] = resting ? (rested >= 0 && (seconds > 0 || parked) ? rested + elapsed : 0) : -1;
    }
    if (Number.isFinite(voltage)) lastVoltage = voltage;
  }
  return { restingS, chargeAh, stretch };
}
