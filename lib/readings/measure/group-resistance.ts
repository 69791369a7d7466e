import { currentPairs } from "@/lib/readings/measure/current-pairs";
import { type DifferenceSlope, differenceSlope } from "@/lib/readings/measure/difference-slope";
import { everyNth } from "@/lib/readings/measure/every-nth";
import { median, quantile, scaledMad } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface GroupResistance {
  readonly pairs: number;
  readonly leastChangeA: number;
  /** Per group, milliohm; NaN where the group has too few plausible pairs. */
  readonly milliohm: Float64Array;
  /** Excess over the median group from the regression of the deviation, trimmed: milliohm and its standard error. */
  readonly excessMilliohm: Float64Array;
  readonly excessErrorMilliohm: Float64Array;
  readonly medianMilliohm: number;
  readonly scaledMadMilliohm: number;
  readonly sumMilliohm: number;
  /** Slope of the pack voltage on the same pairs; null where no pack voltage was logged. */
  readonly packMilliohm: number | null;
  /** Standard errors of the median group's slope, of the sum and of the pack's, milliohm. */
  readonly medianErrorMilliohm: number;
  readonly sumErrorMilliohm: number;
  readonly packErrorMilliohm: number | null;
  readonly rows: Int32Array;
}

export type GroupResistanceResult =
  | { readonly outcome: "measured"; readonly resistance: GroupResistance }
  | { readonly outcome: "refused"; readonly because: "few-steps" | "other-moments"; readonly reason: string };

export interface PairLimits {
  /** A. */
  readonly leastChangeA: number;
  /** s. */
  readonly longestS: number;
  readonly pairsNeeded: number;
}

/** Residuals beyond this many scaled MADs do not set a resistance. Engineering default. */
const trimSigmas = 6;

/**
 * Resistance of every group at the sampling interval, by regression of first differences on the same row pairs.
 *
 * R_k = cov(ΔI, ΔV_k) / var(ΔI). Values at different sampling intervals must not be compared with each other; the
 * comparison that counts is between groups of one pack. Refused where load steps are too few or too small.
 */
export function groupResistance(survey: RowSurvey, limits = pairLimits(survey)): GroupResistanceResult {
  const rows = currentPairs(survey, limits.leastChangeA, limits.longestS);
  if (rows.length < limits.pairsNeeded) {
    return {
      outcome: "refused",
      because: "few-steps",
      reason: `only ${rows.length} load steps of at least ${limits.leastChangeA.toFixed(1)} A were logged; ${limits.pairsNeeded} are needed`,
    };
  }
  const stepA = steps(rows, survey.log.currentA);
  const stepReferenceV = steps(rows, survey.referenceV);
  const [low, high] = survey.gates.cellPlausibleV;
  const milliohm = new Float64Array(survey.groups).fill(Number.NaN);
  const excessMilliohm = new Float64Array(survey.groups).fill(Number.NaN);
  const excessErrorMilliohm = new Float64Array(survey.groups).fill(Number.NaN);
  for (const [index, column] of survey.log.cellVoltagesV.entries()) {
    const stepV = steps(rows, column, low, high);
    const whole = differenceSlope(stepA, stepV);
    const excess = differenceSlope(
      stepA,
      stepV.map((volt, place) => volt - (stepReferenceV[place] ?? Number.NaN)),
      trimSigmas,
    );
    if (whole === null || excess === null || whole.pairs < limits.pairsNeeded) continue;
    milliohm[index] = whole.ohm * 1000;
    excessMilliohm[index] = excess.ohm * 1000;
    excessErrorMilliohm[index] = excess.standardErrorOhm * 1000;
  }
  const medianMilliohm = median(milliohm);
  if (medianMilliohm === null || medianMilliohm <= 0) {
    return { outcome: "refused", because: "few-steps", reason: "group voltages do not follow the current" };
  }
  const medianErrorMilliohm = 1000 * (differenceSlope(stepA, stepReferenceV)?.standardErrorOhm ?? Number.NaN);
  const pack = packSlope(survey, rows, stepA);
  return {
    outcome: "measured",
    resistance: {
      pairs: rows.length,
      leastChangeA: limits.leastChangeA,
      milliohm,
      excessMilliohm,
      excessErrorMilliohm,
      medianMilliohm,
      scaledMadMilliohm: scaledMad(milliohm) ?? 0,
      sumMilliohm: milliohm.reduce((sum, one) => sum + (Number.isNaN(one) ? medianMilliohm : one), 0),
      packMilliohm: pack === null ? null : pack.ohm * 1000,
      medianErrorMilliohm,
      // What all groups share (the median group's error) adds up; what each has of its own only as the root of squares.
      sumErrorMilliohm: Math.hypot(survey.groups * medianErrorMilliohm, ...excessErrorMilliohm.filter(Number.isFinite)),
      packErrorMilliohm: pack === null ? null : pack.standardErrorOhm * 1000,
      rows,
    },
  };
}

/** Currents looked at for the log's own load. Engineering default. */
const currentsLookedAt = 50_000;

/** Steps large against the log's own load and against rated capacity, within about one sampling interval. */
export function pairLimits(survey: RowSurvey): PairLimits {
  const sampled = everyNth(survey.log.currentA, Math.ceil(survey.log.rows / currentsLookedAt));
  const highA = quantile(sampled.map(Math.abs), 0.995) ?? 0;
  return {
    leastChangeA: Math.max(survey.gates.pairCurrentPerHour * survey.ratedCapacityAh, 0.07 * highA),
    longestS: Math.max(1.6 * survey.medianIntervalS, 2),
    pairsNeeded: survey.gates.pairsNeeded,
  };
}

/** Differences to the row before; NaN where either value is missing or outside the plausible range. */
export function steps(
  rows: Int32Array,
  column: Float64Array,
  low = Number.NEGATIVE_INFINITY,
  high = Number.POSITIVE_INFINITY,
): Float64Array {
  const difference = new Float64Array(rows.length);
  for (let place = 0; place < rows.length; place += 1) {
    const row = rows[place] ?? 0;
    const now = column[row] ?? Number.NaN;
    const before = column[row - 1] ?? Number.NaN;
    const plausible = now >= low && now <= high && before >= low && before <= high;
    difference[place] = plausible ? now - before : Number.NaN;
  }
  return difference;
}

function packSlope(survey: RowSurvey, rows: Int32Array, stepA: Float64Array): DifferenceSlope | null {
  return differenceSlope(stepA, steps(rows, survey.log.packVoltageV), trimSigmas);
}
