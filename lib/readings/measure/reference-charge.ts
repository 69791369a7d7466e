import { type AnchoredCharge, type AnchorSeries, anchorCharge } from "@/lib/readings/measure/anchored-charge";
import { currentPairs } from "@/lib/readings/measure/current-pairs";
import {
  type CurveGrid,
  gridOfCurve,
  gridPercent,
  gridSlope,
  gridVoltage,
  sharpenGrid,
} from "@/lib/readings/measure/curve-grid";
import { differenceSlope } from "@/lib/readings/measure/difference-slope";
import { pairLimits, steps } from "@/lib/readings/measure/group-resistance";
import { median, quantile } from "@/lib/readings/measure/median";
import type { OpenCircuitCurve } from "@/lib/readings/measure/open-circuit";
import { PriorLeastSquares } from "@/lib/readings/measure/prior-least-squares";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { type TellingRows, tellingRows } from "@/lib/readings/measure/telling-rows";
import { oncePer } from "@/lib/readings/once-per";

/** State of charge of the median group at some thousand telling rows, and what it took to find it. */
export interface ReferenceCharge {
  readonly rows: Int32Array;
  readonly socPercent: Float64Array;
  /** Current through a 60 s low pass, A: what the slower part of the polarisation follows. */
  readonly slowCurrentA: Float64Array;
  /** The open-circuit curve corrected by this pack's own median group. */
  readonly grid: CurveGrid;
  /** Ohmic and slow part of the median group's resistance, ohm. */
  readonly fastOhm: number;
  readonly slowOhm: number;
  /** % of charge per Ah of the median group; only with the pack model's own curve is it a capacity. */
  readonly percentPerAh: number;
  readonly percentPerAhError: number;
  /** 2 and 98 % quantile of the state of charge over the rows, %. */
  readonly window: readonly [number, number];
}

/** Engineering defaults: rows kept, and rounds of fitting. */
const rowsWanted = 3000;
const rounds = 6;
/** Rounds in which the scale is still free. Once the curve follows the pack, a scale read from it would confirm itself. */
const roundsForScale = 4;
/** V. What noise, polarisation not modelled and the table leave on one inverted voltage, and over how many s it lasts. */
const invertedVoltageV = 0.01;
const flatVoltageV = 0.025;
const flatSlope = 0.003;
const invertedVoltageLastsS = 900;
/** V per %. The steep end of a curve tells charge sharply, but a table is least true there. */
const steepestTrusted = 0.02;
/** %. A pack is never fuller or emptier than its cut-offs allow, a few points of ageing and rate aside. Engineering default. */
export const possiblePercent = [-3, 103] as const;
/** Slow part of a cell's resistance over the part felt at once, before the log is read. Engineering default. */
const slowOfFast = 0.5;
/** A prior this narrow holds the scale. */
const scaleFixedShare = 1e-6;
/** Shares of rated capacity outside which no pack in use lies; a flat curve read alone can say anything. Engineering default. */
export const possibleCapacity = [0.4, 1.15] as const;
/** Share of rated capacity by which the capacity may differ before the log is read: own curve, generic curve. */
const capacityPrior = { "pack model": 0.25, "generic NMC": 0.03 };

/**
 * Follows the median group's state of charge: counted charge from row to row, anchored to the open-circuit curve.
 *
 * Repeats three steps: charge by inverting V - R·I through the curve and anchoring the count to it; resistances by
 * regression of what that leaves; the curve itself corrected by the rest. `null` where fewer than 50 rows serve. `heldPercentPerAh`:
 * a scale that is known, or to be tried, instead of the one the median group's voltage alone would say.
 */
export function referenceCharge(
  survey: RowSurvey,
  curve: OpenCircuitCurve,
  heldPercentPerAh: number | null = null,
): ReferenceCharge | null {
  const { telling, startOhms } = groundsOf(survey);
  const { rows, slowCurrentA } = telling;
  if (rows.length < 50) return null;
  const nominal = 100 / survey.ratedCapacityAh;
  const current = Float64Array.from(rows, (row) => survey.log.currentA[row] ?? 0);
  const volts = Float64Array.from(rows, (row) => survey.referenceV[row] ?? 0);
  let grid = gridOfCurve(curve);
  let ohms = startOhms;
  let anchored: AnchoredCharge = {
    percent: new Float64Array(rows.length),
    percentPerAh: nominal,
    percentPerAhError: nominal,
  };
  for (let round = 0; round < rounds; round += 1) {
    const rest = volts.map(
      (volt, at) => volt - ohms.fastOhm * (current[at] ?? 0) - ohms.slowOhm * (slowCurrentA[at] ?? 0),
    );
    const series = anchorSeries(survey, telling, rest, grid);
    if (heldPercentPerAh !== null) {
      anchored = anchorCharge(series, heldPercentPerAh, scaleFixedShare * heldPercentPerAh);
    } else if (round > 0 && round < roundsForScale) {
      anchored = anchorCharge(series, nominal, capacityPrior[curve.source] * nominal);
      const possible = Math.min(
        nominal / possibleCapacity[0],
        Math.max(nominal / possibleCapacity[1], anchored.percentPerAh),
      );
      if (possible !== anchored.percentPerAh) {
        const held = anchorCharge(series, possible, scaleFixedShare * possible);
        anchored = { ...held, percentPerAhError: Math.abs(possible - anchored.percentPerAh) };
      }
    } else {
      const fixed = anchorCharge(series, anchored.percentPerAh, scaleFixedShare * anchored.percentPerAh);
      anchored = { ...anchored, percent: fixed.percent };
    }
    const left = volts.map((volt, at) => volt - gridVoltage(grid, anchored.percent[at] ?? 0));
    ohms = fitOhms(current, slowCurrentA, left);
    const unexplained = left.map(
      (volt, at) => volt - ohms.fastOhm * (current[at] ?? 0) - ohms.slowOhm * (slowCurrentA[at] ?? 0),
    );
    if (round >= roundsForScale - 1) grid = sharpenGrid(grid, anchored.percent, unexplained);
  }
  const { percent, ...scale } = anchored;
  const window = [quantile(percent, 0.02) ?? 0, quantile(percent, 0.98) ?? 0] as const;
  return { rows, socPercent: percent, slowCurrentA, grid, ...ohms, ...scale, window };
}

/** What does not depend on the curve or its scale: walks over every row, once for each log. */
const groundsOf = oncePer((survey: RowSurvey) => ({
  telling: tellingRows(survey, rowsWanted),
  startOhms: firstOhms(survey),
}));

/**
 * Where the fitting starts: a load's own drop must be known roughly before a voltage is read through a flat curve, or a
 * whole ride reads as empty and the fit never leaves that answer.
 */
function firstOhms(survey: RowSurvey): { fastOhm: number; slowOhm: number } {
  const { leastChangeA, longestS } = pairLimits(survey);
  const rows = currentPairs(survey, leastChangeA, longestS);
  const slope = differenceSlope(steps(rows, survey.log.currentA), steps(rows, survey.referenceV));
  const fastOhm = Math.max(0, slope?.ohm ?? 0);
  return { fastOhm, slowOhm: slowOfFast * fastOhm };
}

function anchorSeries(survey: RowSurvey, telling: TellingRows, rest: Float64Array, grid: CurveGrid): AnchorSeries {
  const invertedPercent = rest.map((volt) =>
    Math.min(possiblePercent[1], Math.max(possiblePercent[0], gridPercent(grid, volt))),
  );
  let beforeS = Number.NEGATIVE_INFINITY;
  const curveVariance = invertedPercent.map((percent) => {
    const slope = Math.min(steepestTrusted, Math.max(gridSlope(grid, percent), 0.0005));
    return ((slope < flatSlope ? flatVoltageV : invertedVoltageV) / slope) ** 2;
  });
  const invertedVariance = curveVariance.map((variance, at) => {
    const timeS = survey.log.timeS[telling.rows[at] ?? 0] ?? 0;
    // Rows closer together than the error lasts share it: each counts for less.
    const shared = Math.max(1, invertedVoltageLastsS / Math.max(timeS - beforeS, 0.1));
    beforeS = timeS;
    return variance * shared;
  });
  return {
    countedAh: telling.countedAh,
    stepVarianceAh: telling.stepVarianceAh,
    invertedPercent,
    invertedVariance,
    curveVariance,
  };
}

function fitOhms(current: Float64Array, slowCurrentA: Float64Array, left: Float64Array) {
  const middle = median(left) ?? 0;
  const fit = new PriorLeastSquares(3);
  for (const [at, amp] of current.entries()) {
    const off = Math.abs((left[at] ?? 0) - middle) / 0.1;
    fit.add([amp, slowCurrentA[at] ?? 0, 1], left[at] ?? 0, 1 / (1 + off * off));
  }
  // Wide priors (1 ohm, 1 V): they only keep an unexcited direction at zero.
  const { mean } = fit.solve([1, 1, 1], invertedVoltageV, 1);
  return { fastOhm: mean[0] ?? 0, slowOhm: mean[1] ?? 0 };
}
