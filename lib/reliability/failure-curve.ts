import type { KaplanMeierCurve } from "@/lib/stats/kaplan-meier";
import type { LagWeightedCurve } from "@/lib/stats/lag-weighted-survival";
import { atRiskAt } from "@/lib/stats/life-counts";
import { type Limits, lowerLimitWithoutFailures } from "@/lib/stats/survival-limits";
import { type CannotTellReason, doubtOfCurve, doubtOfShare } from "./failure-estimate";

/** The values hold from `ageDays` up to the next point. */
export interface FailureCurvePoint {
  readonly ageDays: number;
  readonly probability: number;
  readonly lower: number;
  readonly upper: number;
  /** Packs at risk just after this age. */
  readonly atRisk: number;
  /** Why no share is told at the ages from here on; null where it is. */
  readonly doubt: CannotTellReason | null;
  /** There is more to doubt than that nothing has failed yet, where the upper limit says it all: draw it grey. */
  readonly grey: boolean;
}

/** What a curve allows for. */
export interface CurveAllowance {
  /** The curve with what is on its way allowed for. */
  readonly lagCorrected: LagWeightedCurve;
  /** In the middle of each day of age (`middlesOfDays`): packs at risk, each with the chance that a failure there would be known. */
  readonly visible: ArrayLike<number>;
}

/** The middle of each day of age up to the last one watched: within a day nobody fails or leaves. */
export function middlesOfDays({ lastAge }: Pick<KaplanMeierCurve, "lastAge">): number[] {
  return Array.from({ length: Math.ceil(lastAge) }, (_, day) => day + 0.5);
}

/**
 * The share failed by age as steps to draw, by the very estimate, limits and doubts of the shares told at the milestones: a point at
 * age 0, at each failure age, wherever the doubt changes or, before the first failure, half as many packs would show one as at the
 * point before, and at the end. Before the first failure the upper limit is the one that holds at the end of the step. With late
 * reports allowed for it ends where too little is known to correct. Empty where no pack has any exposure. Ages are whole days.
 *
 * @param allowance null where everything is known at once.
 */
export function failureCurve(curve: KaplanMeierCurve, allowance: CurveAllowance | null = null): FailureCurvePoint[] {
  const days = daysOf(curve, allowance);
  const starts = startsOfSteps(days);
  let fewest = Number.POSITIVE_INFINITY;
  const points = starts.flatMap((start, i): FailureCurvePoint[] => {
    const day = days[start];
    if (day === undefined) return [];
    const { share, visible: _, ...rest } = day;
    for (const { visible } of days.slice(start, starts[i + 1])) fewest = Math.min(fewest, visible);
    const none = { probability: 0, lower: 0, upper: 1 - lowerLimitWithoutFailures(fewest, curve.confidence) };
    const { probability, lower, upper } = share ?? none;
    const grey = rest.doubt !== null && !(share === null && rest.doubt === "few-failures");
    return [{ ...rest, probability, lower, upper, grey }];
  });
  const last = points.at(-1);
  // It ends the last step and begins none.
  return last === undefined ? [] : [...points, { ...last, ageDays: Math.min(curve.lastAge, days.length), atRisk: 0 }];
}

interface Day {
  readonly ageDays: number;
  readonly atRisk: number;
  readonly visible: number;
  /** Null before the first failure. */
  readonly share: (Limits & { readonly probability: number }) | null;
  readonly doubt: CannotTellReason | null;
}

/** What the curve says in the middle of each day, up to where it ends. */
function daysOf(curve: KaplanMeierCurve, allowance: CurveAllowance | null): Day[] {
  const { steps, endsBeforeAge } = allowance?.lagCorrected ?? { steps: curve.steps, endsBeforeAge: null };
  const atRisk = atRiskInDays(curve);
  const days: Day[] = [];
  let reached = 0;
  let share: (Limits & { readonly probability: number; readonly standardError: number }) | null = null;
  for (const [ageDays, middle] of middlesOfDays(curve).entries()) {
    if (endsBeforeAge !== null && endsBeforeAge <= middle) break;
    for (let step = steps[reached]; step !== undefined && step.age <= middle; step = steps[++reached]) {
      const { survival, standardError, lower, upper } = step;
      share = { probability: 1 - survival, standardError, lower: 1 - upper, upper: 1 - lower };
    }
    const own = atRisk[ageDays] ?? 0;
    const visible = allowance?.visible[ageDays] ?? own;
    const doubt = doubtOfCurve(curve, middle) ?? doubtOfShare(share, own, visible);
    days.push({ ageDays, atRisk: own, visible, share, doubt });
  }
  return days;
}

/** Positions of the days with which a step begins. */
function startsOfSteps(days: readonly Day[]): number[] {
  const starts: number[] = [];
  let visibleAtLast = 0;
  for (const [i, { share, doubt, visible }] of days.entries()) {
    const before = days[i - 1];
    // Without a failure the limit is that of the fewest in a step: one step to the end would draw the few oldest for all.
    const hasThinned = share === null && visible > 0 && visible <= visibleAtLast / 2;
    if (before === undefined || before.share !== share || before.doubt !== doubt || hasThinned) {
      starts.push(i);
      visibleAtLast = visible;
    }
  }
  return starts;
}

function atRiskInDays({ counts, lastAge }: KaplanMeierCurve): number[] {
  let atRisk = 0;
  let reached = 0;
  return middlesOfDays({ lastAge }).map((middle) => {
    for (let count = counts[reached]; count !== undefined && count.age < middle; count = counts[++reached])
      atRisk += count.entered - count.failed - count.censored;
    return atRisk;
  });
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
