import { type Both, inTurn } from "@/lib/readings/both";
import { everyNth, noiseRows } from "@/lib/readings/measure/every-nth";
import { defaultMeasureGates, type MeasureGates } from "@/lib/readings/measure/measure-gates";
import { median, scaledMad } from "@/lib/readings/measure/median";
import { type PlausibleRows, readPlausibleRows } from "@/lib/readings/measure/plausible-rows";
import { columnResolution } from "@/lib/readings/measure/resolution";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { sharedFloats, sharedInts } from "@/lib/readings/shared-columns";
import { gapLimitS, silenceLimitS } from "@/lib/readings/time-gaps";

/** A rest that was none: something drew from the pack while it stood, or trickled into it. */
export interface StandingDraw {
  readonly startRow: number;
  readonly endRow: number;
  /** Mean logged current after relaxation, A; null where none was logged that the voltages bear out. */
  readonly currentA: number | null;
  readonly days: number;
  /** Change of the median group's charge by its voltage, % of charge per day; negative where it empties. */
  readonly percentPerDay: number;
}

/** What every measurement needs to know about each row, worked out once. */
export interface RowSurvey extends PlausibleRows {
  readonly log: ReadingLog;
  readonly gates: MeasureGates;
  readonly groups: number;
  readonly ratedCapacityAh: number;
  /** s since the row before; 0 for the first row, a repeated time, a gap or another clock segment. */
  readonly intervalS: Float64Array;
  readonly medianIntervalS: number;
  /** s. Longest step from row to row over which anything may be integrated. */
  readonly gapS: number;
  /** Smallest step between values of each group, V: what it was logged with. Group 1 first. */
  readonly resolutionV: Float64Array;
  readonly restCurrentA: number;
  /** s of rest up to this row; -1 where the pack is not resting or the current is unknown. */
  readonly restingS: Float64Array;
  /** Net charge since the start of the stretch, Ah. */
  readonly chargeAh: Float64Array;
  /** Rows of one stretch hang together by charge: no unknown use lies between them. */
  readonly stretch: Int32Array;
  /** Share of the usable time in which no current was logged and none can be told: a count of charge lacks that. */
  readonly currentMissingShare: number;
  /** The same time over that in which a current was counted and the pack did not rest; 0 where none is missing. */
  readonly missingOverCounted: number;
  /** Rests through which a current truly flowed; empty before it was looked for (`standing-draw.ts`). */
  readonly standingDraws: readonly StandingDraw[];
}

/** One pass over the rows and one over the groups; O(rows · groups). */
export function surveyRows(
  log: ReadingLog,
  ratedCapacityAh: number,
  gates = defaultMeasureGates,
  both: Both = inTurn,
): RowSurvey {
  const reference = readPlausibleRows(log.cellVoltagesV, log.rows, gates.cellPlausibleV, both);
  const [counted, resolutionV] = both(
    () => {
      const intervals = usableIntervals(log);
      const restCurrentA = restCurrent(log.currentA, gates.restCurrentPerHour * ratedCapacityAh);
      const followed = followCharge(log, intervals, reference.referenceV, restCurrentA, gates.parkedChangeV);
      return { ...intervals, restCurrentA, ...followed };
    },
    () => Float64Array.from(log.cellVoltagesV, columnResolution),
  );
  return {
    log,
    gates,
    groups: log.cellVoltagesV.length,
    ratedCapacityAh,
    ...reference,
    ...counted,
    resolutionV,
    standingDraws: [],
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
  const intervalS = sharedFloats(log.rows);
  for (let row = 1; row < log.rows; row += 1) {
    const seconds = (log.timeS[row] ?? 0) - (log.timeS[row - 1] ?? 0);
    if (log.segment[row] === log.segment[row - 1] && seconds > 0 && seconds <= gapS) intervalS[row] = seconds;
  }
  const sampled = everyNth(intervalS, Math.ceil(log.rows / intervalsLookedAt)).map((seconds) =>
    seconds > 0 ? seconds : Number.NaN,
  );
  return { gapS, intervalS, medianIntervalS: median(sampled) ?? 0 };
}

/** Intervals looked at for the usual one. Engineering default. */
const intervalsLookedAt = 50_000;

/** V from row to row within which a pack without a logged current is taken to rest, where its readings are quiet. Engineering default. */
const quietV = 0.005;
/** V. Readings in steps of 5 mV part by a little more than 5 mV once they are binary fractions: 4.19 less 4.185 does. */
const roundingSlackV = 1e-9;

/** V by which the group in the middle may move from row to row in a rest. More where the readings themselves scatter more: noise is no load. */
export function quietChange(referenceV: Float64Array): number {
  const stride = Math.max(1, Math.ceil(referenceV.length / noiseRows));
  const changes: number[] = [];
  for (let row = 1; row < referenceV.length; row += stride) {
    const change = (referenceV[row] ?? Number.NaN) - (referenceV[row - 1] ?? Number.NaN);
    if (Math.abs(change) <= raisedAtMost * quietV) changes.push(change);
  }
  const scatterV = changes.length < 100 ? 0 : (scaledMad(changes) ?? 0);
  return Math.min(raisedAtMost * quietV, Math.max(quietV, noiseMultiple * scatterV));
}

/**
 * Row by row: how long the pack has rested, what was counted, and where the count breaks off. A row or two without a current among others are
 * counted through; a longer silence ends the stretch, unless the pack stood still on both sides of it, and its time counts as missing.
 */
function followCharge(
  log: ReadingLog,
  { intervalS, gapS }: { readonly intervalS: Float64Array; readonly gapS: number },
  referenceV: Float64Array,
  restCurrentA: number,
  parkedChangeV: number,
) {
  const restingS = sharedFloats(log.rows).fill(-1);
  const chargeAh = sharedFloats(log.rows);
  const stretch = sharedInts(log.rows);
  // s of usable intervals, s of them whose current nothing tells, and s of use whose current is counted.
  let coveredS = 0;
  let untoldS = 0;
  let usedS = 0;
  const currentKnown = log.currentA.some(Number.isFinite);
  const silenceS = silenceLimitS(log.timeS, log.currentA, log.segment, gapS);
  const quiet = currentKnown ? quietV : quietChange(referenceV);
  let lastVoltage = Number.NaN;
  // The last row with a current, its voltage, and the usable time since; without any current every row counts as one.
  let known = -1;
  let knownV = Number.NaN;
  let sinceS = 0;
  for (let row = 0; row < log.rows; row += 1) {
    const current = log.currentA[row] ?? Number.NaN;
    const voltage = referenceV[row] ?? Number.NaN;
    const seconds = intervalS[row] ?? 0;
    coveredS += seconds;
    sinceS += seconds;
    if (Number.isFinite(current) || !currentKnown) {
      // Without a current the voltage must do: a pack under changing load does not keep it.
      const resting = currentKnown
        ? Math.abs(current) <= restCurrentA
        : Math.abs(voltage - lastVoltage) <= quiet + roundingSlackV;
      if (known < 0) {
        restingS[row] = resting ? 0 : -1;
        untoldS += sinceS;
      } else {
        const elapsed = (log.timeS[row] ?? 0) - (log.timeS[known] ?? 0);
        const rested = restingS[known] ?? -1;
        const sameClock = log.segment[row] === log.segment[known];
        // What lies between is counted on where no longer than a gap may be, and where the current is not silent for long.
        const near = sameClock && sinceS > 0 && elapsed <= (row - known > 1 ? silenceS : gapS);
        // A logger that slept while the pack was parked: charge is unchanged although the interval is a gap.
        const parked = sameClock && resting && rested >= 0 && !(Math.abs(voltage - knownV) > parkedChangeV);
        // At rest a sensor reads its own offset: it is counted only where the voltages bear it out (`standing-draw.ts`).
        const moved = near && !parked ? (((log.currentA[known] ?? 0) + current) / 2) * (elapsed / 3600) : 0;
        const joined = near || elapsed === 0 || parked;
        if (!joined && row - known > 1) untoldS += sinceS;
        if (near && !(resting && rested >= 0)) usedS += elapsed;
        chargeAh[row] = joined ? (chargeAh[known] ?? 0) + (Number.isFinite(moved) ? moved : 0) : 0;
        stretch[row] = (stretch[known] ?? 0) + (joined ? 0 : 1);
        const restsOn = resting && rested >= 0 && (near || parked);
        restingS[row] = restsOn ? rested + elapsed : resting ? 0 : -1;
        for (let at = known + 1; at < row && restsOn; at += 1)
          restingS[at] = rested + (log.timeS[at] ?? 0) - (log.timeS[known] ?? 0);
      }
      known = row;
      knownV = voltage;
      sinceS = 0;
    } else if (known >= 0) {
      chargeAh[row] = chargeAh[known] ?? 0;
      stretch[row] = stretch[known] ?? 0;
    }
    if (Number.isFinite(voltage)) lastVoltage = voltage;
  }
  if (known < log.rows - 1) untoldS += sinceS;
  return {
    restingS,
    chargeAh,
    stretch,
    currentMissingShare: coveredS > 0 ? untoldS / coveredS : 0,
    missingOverCounted: untoldS > 0 ? untoldS / usedS : 0,
  };
}
