import type { CauseCounts } from "./cause-tally";
import { twoSidedNormalQuantile } from "./normal-quantile";
import type { Limits } from "./survival-limits";

export interface IncidenceStep extends Limits {
  readonly age: number;
  readonly atRisk: number;
  /** Failures of this cause at this age. */
  readonly failures: number;
  /** Probability to have failed of this cause by `age`. */
  readonly incidence: number;
  readonly standardError: number;
}

export interface CauseIncidence {
  readonly cause: string;
  readonly failures: number;
  /** One step per age with a failure of this cause, ages rising. */
  readonly steps: readonly IncidenceStep[];
}

/**
 * Answers: which share of units has failed of each cause by each age, when any of the causes can come first?
 *
 * Aalen-Johansen estimate: I_k(t) = sum over ages up to t of S(t-) d_k / n, with S the survival of all causes together,
 * so that the incidences and S add up to 1. One minus a Kaplan-Meier curve per cause would overstate each of them.
 * Variance by the delta method (three sums, see `varianceAt`); limits on the log(-log(1 - I)) scale, so that with a single
 * cause estimate, standard error and limits are those of the Kaplan-Meier curve.
 *
 * Nothing is said of what would happen were one cause removed. Limits 0 to 1 where the standard error is 0 with
 * incidence 1 (all failed). Sources: Aalen & Johansen, Scand. J. Statist. 5 (1978) 141-150; variance: Dinse & Larson,
 * Biometrika 73 (1986) 379-386; limits: Choudhury, Statist. Med. 21 (2002) 1129-1144.
 */
export function cumulativeIncidence({ causes, counts }: CauseCounts, confidence = 0.95): CauseIncidence[] {
  const z = twoSidedNormalQuantile(confidence);
  const ages = failureAges(counts);
  return causes.map((cause, k) => {
    const variance = new IncidenceVariance();
    const steps: IncidenceStep[] = [];
    let incidence = 0;
    let failures = 0;
    for (const { age, atRisk, failed, survivalBefore } of ages) {
      const ofCause = failed[k] ?? 0;
      incidence += (survivalBefore * ofCause) / atRisk;
      variance.add({ atRisk, ofAny: sum(failed), ofCause, survivalBefore, incidence });
      if (ofCause === 0) continue;
      failures += ofCause;
      const standardError = Math.sqrt(variance.at(incidence));
      steps.push({
        age,
        atRisk,
        failures: ofCause,
        incidence,
        standardError,
        ...incidenceLimits(incidence, standardError, z),
      });
    }
    return { cause, failures, steps };
  });
}

interface FailureAge {
  readonly age: number;
  readonly atRisk: number;
  readonly failed: readonly number[];
  readonly survivalBefore: number;
}

function failureAges(counts: CauseCounts["counts"]): FailureAge[] {
  const ages: FailureAge[] = [];
  let atRisk = 0;
  let survival = 1;
  for (const { age, entered, censored, failed } of counts) {
    const all = sum(failed);
    if (all > 0) {
      ages.push({ age, atRisk, failed, survivalBefore: survival });
      survival *= (atRisk - all) / atRisk;
    }
    atRisk += entered - censored - all;
  }
  return ages;
}

/**
 * Var I(t) = sum (I(t) - I_j)^2 d / (n (n - d)) + sum S^2 d_k (n - d_k) / n^3 - 2 sum (I(t) - I_j) S d_k / n^2 over ages j
 * up to t: sums of powers of I_j are enough to have it at every t without going back.
 */
class IncidenceVariance {
  private weight = 0;
  private weightTimesI = 0;
  private weightTimesI2 = 0;
  private own = 0;
  private cross = 0;
  private crossTimesI = 0;

  add(at: { atRisk: number; ofAny: number; ofCause: number; survivalBefore: number; incidence: number }): void {
    const { atRisk: n, ofAny, ofCause, survivalBefore, incidence } = at;
    // Where all at risk fail nothing can follow, and I(t) - I_j is 0 for ever: the infinite weight meets a 0.
    const w = ofAny < n ? ofAny / (n * (n - ofAny)) : 0;
    this.weight += w;
    this.weightTimesI += w * incidence;
    this.weightTimesI2 += w * incidence * incidence;
    this.own += (survivalBefore ** 2 * ofCause * (n - ofCause)) / n ** 3;
    const c = (survivalBefore * ofCause) / n ** 2;
    this.cross += c;
    this.crossTimesI += c * incidence;
  }

  at(incidence: number): number {
    const others = incidence ** 2 * this.weight - 2 * incidence * this.weightTimesI + this.weightTimesI2;
    return Math.max(0, others + this.own - 2 * (incidence * this.cross - this.crossTimesI));
  }
}

function incidenceLimits(incidence: number, standardError: number, z: number): Limits {
  if (incidence >= 1) return { lower: 0, upper: 1 };
  const survival = 1 - incidence;
  const logSurvival = Math.log1p(-incidence);
  const spread = Math.exp((z * standardError) / (survival * -logSurvival));
  return { lower: -Math.expm1(logSurvival / spread), upper: -Math.expm1(logSurvival * spread) };
}

function sum(values: readonly number[]): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}
