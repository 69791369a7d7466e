import { lifeProblem } from "./life-counts";
import { twoSidedNormalQuantile } from "./normal-quantile";
import { type Limits, logLogLimits } from "./survival-limits";

/** One unit, or several equal ones, as known on the data date. All in one unit of time. */
export interface LaggedLife {
  readonly entry: number;
  /** Age at the failure known, or the age up to which a failure would count: today, or the end of cover. */
  readonly exit: number;
  readonly failed: boolean;
  /** Age the unit has, or would have, on the data date. Never below `exit`. */
  readonly ageToday: number;
  readonly count?: number;
  /** Of the units like it, where some are known of later than others; missing where one share stands for all. */
  readonly shareKnown?: ShareKnown;
}

/** Share of events known after a lag: rising from 0 to 1, asked at lags from 0. */
export type ShareKnown = (lag: number) => number;

export interface LagWeightedStep extends Limits {
  readonly age: number;
  readonly failures: number;
  /** Units at risk, each counted with the chance that a failure at this age would be known today. */
  readonly weightedAtRisk: number;
  readonly survival: number;
  readonly standardError: number;
}

export interface LagWeightedCurve {
  readonly steps: readonly LagWeightedStep[];
  /**
   * Age at which fewer than the failures seen were expected to be visible at all, or null: the curve ends before it, since
   * from there on the share known is too small to divide by.
   */
  readonly endsBeforeAge: number | null;
}

/**
 * Answers: which share lives past each age, when the latest failures are not known yet?
 *
 * Hazard at age a = d(a) / sum over units at risk of G(today - first use - a), G the share of failures known after a lag, a unit's
 * own where it has one; survival = product of (1 - hazard); variance and log-log limits as for Kaplan-Meier with the weighted number at risk,
 * which it equals where G is 1. The limits take G as known: with few lags behind it they are too narrow, so compare with the
 * curve cut back by the lag. Failures not yet known cannot leave the risk set, which makes the hazard too low by their
 * share, of the order of the failed share itself.
 *
 * @param shareKnown G of the units without one of their own.
 * Domain: lives that `lifeProblem` accepts, ageToday >= exit, else a RangeError. No failures: no steps.
 * Source: Kalbfleisch, Lawless & Robinson, Technometrics 33 (1991) 273-285 (abstract read; formula from memory).
 */
export function lagWeightedSurvival(
  lives: readonly LaggedLife[],
  shareKnown: ShareKnown,
  confidence = 0.95,
): LagWeightedCurve {
  const z = twoSidedNormalQuantile(confidence);
  const kinds = distinctLives(lives, shareKnown);
  const steps: LagWeightedStep[] = [];
  let survival = 1;
  let logSurvival = 0;
  let greenwoodSum = 0;
  for (const [age, failures] of failuresByAge(kinds)) {
    const weightedAtRisk = weighed(kinds, age);
    if (weightedAtRisk <= failures * (1 + 1e-12)) {
      // All at risk failed, with every one of them known: the ordinary end of a curve.
      const isWhole = Math.abs(weightedAtRisk - failures) <= failures * 1e-12;
      if (isWhole) {
        const upper = steps.at(-1)?.upper ?? 1;
        steps.push({ age, failures, weightedAtRisk, survival: 0, standardError: 0, lower: 0, upper });
      }
      return { steps, endsBeforeAge: isWhole ? null : age };
    }
    const hazard = failures / weightedAtRisk;
    survival *= 1 - hazard;
    logSurvival += Math.log1p(-hazard);
    greenwoodSum += failures / (weightedAtRisk * (weightedAtRisk - failures));
    const standardError = survival * Math.sqrt(greenwoodSum);
    steps.push({
      age,
      failures,
      weightedAtRisk,
      survival,
      standardError,
      ...logLogLimits(logSurvival, greenwoodSum, z),
    });
  }
  return { steps, endsBeforeAge: null };
}

type Kind = Required<LaggedLife>;

/** Equal lives once, with their number: a fleet has few distinct ones where ages are whole days. */
function distinctLives(lives: readonly LaggedLife[], shareOfAll: ShareKnown): Kind[] {
  const kinds = new Map<string, { life: LaggedLife; count: number }>();
  const delays = new Map<ShareKnown, number>();
  for (const life of lives) {
    const problem = lifeProblem(life.entry, life.exit);
    if (problem !== null) throw new RangeError(`life (${life.entry}, ${life.exit}] cannot be counted: ${problem}`);
    if (!(life.ageToday >= life.exit)) throw new RangeError(`an exit at ${life.exit} lies after today`);
    const { shareKnown = shareOfAll } = life;
    const delay = delays.get(shareKnown) ?? delays.size;
    delays.set(shareKnown, delay);
    const key = `${delay}|${life.entry}|${life.exit}|${life.failed}|${life.ageToday}`;
    const known = kinds.get(key) ?? { life, count: 0 };
    known.count += life.count ?? 1;
    kinds.set(key, known);
  }
  return [...kinds.values()].map(({ life, count }) => ({ shareKnown: shareOfAll, ...life, count }));
}

function failuresByAge(kinds: readonly Kind[]): [age: number, failures: number][] {
  const failures = new Map<number, number>();
  for (const { exit, failed, count } of kinds) if (failed) failures.set(exit, (failures.get(exit) ?? 0) + count);
  return [...failures].sort(([a], [b]) => a - b);
}

function weighed(kinds: readonly Kind[], age: number): number {
  let sum = 0;
  for (const { entry, exit, ageToday, count, shareKnown } of kinds) {
    if (entry < age && age <= exit) sum += count * shareKnown(ageToday - age);
  }
  return sum;
}
