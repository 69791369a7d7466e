import type { KaplanMeierCurve } from "@/lib/stats/kaplan-meier";
import { atRiskAt, fewestAtRiskUpTo } from "@/lib/stats/life-counts";
import { lowerLimitWithoutFailures } from "@/lib/stats/survival-limits";
import { FEWEST_AT_RISK, LARGEST_RELATIVE_STANDARD_ERROR } from "./failure-estimate";

/** The values hold from `ageDays` up to the next point. */
export interface FailureCurvePoint {
  readonly ageDays: number;
  readonly probability: number;
  readonly lower: number;
  readonly upper: number;
  /** Packs at risk just after this age. */
  readonly atRisk: number;
  /** Too few at risk, an early risk set used up, or too few failures: draw it grey. */
  readonly grey: boolean;
  /** Its standard error is more than `LARGEST_RELATIVE_STANDARD_ERROR` of it, as of few failures. */
  readonly fewFailures: boolean;
}

/**
 * The share failed by age as steps to draw: a point at age 0, at each failure age, wherever the step turns grey or
 * back, or, before the first failure, half as many are at risk as at the point before, and at the last age. Before the first failure the upper limit is the one that holds at the end of the step.
 * Empty where no pack has any exposure.
 */
export function failureCurve(curve: KaplanMeierCurve): FailureCurvePoint[] {
  const turns = turningAges(curve);
  const stepByAge = new Map(curve.steps.map((step) => [step.age, step]));
  const points: FailureCurvePoint[] = [];
  let limits = { probability: 0, lower: 0, upper: 0 };
  let failedBefore = false;
  let fewFailures = false;
  for (const [i, turn] of turns.entries()) {
    const step = stepByAge.get(turn.ageDays);
    if (step !== undefined) {
      failedBefore = true;
      fewFailures = step.standardError > LARGEST_RELATIVE_STANDARD_ERROR * (1 - step.survival);
      limits = { probability: 1 - step.survival, lower: 1 - step.upper, upper: 1 - step.lower };
    } else if (!failedBefore) {
      const endDays = turns[i + 1]?.ageDays ?? turn.ageDays;
      const fewest = fewestAtRiskUpTo(curve.counts, endDays);
      limits = { probability: 0, lower: 0, upper: 1 - lowerLimitWithoutFailures(fewest, curve.confidence) };
    }
    points.push({ ...turn, ...limits, grey: turn.grey || fewFailures, fewFailures });
  }
  return points;
}

function turningAges(curve: KaplanMeierCurve): Pick<FailureCurvePoint, "ageDays" | "atRisk" | "grey">[] {
  const failureAges = new Set(curve.steps.map((step) => step.age));
  const turns: Pick<FailureCurvePoint, "ageDays" | "atRisk" | "grey">[] = [];
  let atRisk = 0;
  let wasGrey: boolean | null = null;
  let [hasFailed, atLastTurn] = [false, 0];
  for (const { age, entered, failed, censored } of startingAtZero(curve.counts)) {
    atRisk += entered - failed - censored;
    const isLast = age === curve.lastAge;
    const isUsedUp = curve.exhaustedAtAge !== null && curve.exhaustedAtAge <= age;
    // The last point ends the last step and begins none, so it takes that step's shade.
    const grey: boolean = isLast ? wasGrey === true : atRisk < FEWEST_AT_RISK || isUsedUp;
    hasFailed ||= failureAges.has(age);
    // Without a failure the limit is that of the fewest at risk in a step: one step to the end would draw the few oldest for all.
    const hasThinned = !hasFailed && atRisk > 0 && atRisk <= atLastTurn / 2;
    if (failureAges.has(age) || grey !== wasGrey || isLast || hasThinned) {
      turns.push({ ageDays: age, atRisk, grey });
      atLastTurn = atRisk;
    }
    wasGrey = grey;
  }
  return turns;
}

function startingAtZero(counts: KaplanMeierCurve["counts"]): KaplanMeierCurve["counts"] {
  const [first] = counts;
  if (first === undefined || first.age === 0) return counts;
  return [{ age: 0, entered: 0, failed: 0, censored: 0 }, ...counts];
}

/** Packs at risk at each of the given ages, for the row of numbers under the axis. */
export function atRiskRow(curve: KaplanMeierCurve, agesDays: readonly number[]): number[] {
  return agesDays.map((ageDays) => (ageDays === 0 ? watchedFromFirstUse(curve) : atRiskAt(curve.counts, ageDays)));
}

/** Nobody is at risk "at" age 0; what a reader expects there is how many were watched from first use. */
function watchedFromFirstUse(curve: KaplanMeierCurve): number {
  const [first] = curve.counts;
  return first?.age === 0 ? first.entered : 0;
}
