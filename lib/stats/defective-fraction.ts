import { chiSquareTail } from "./chi-square-tail";
import { countFailures, type LifeCount } from "./life-counts";
import { newtonMaximum, type Slopes, type Summit } from "./newton-maximum";
import { fitWeibull } from "./weibull-fit";

export interface DefectiveFraction {
  readonly kind: "fit";
  /** Share of units that can fail at all of this cause. */
  readonly share: number;
  /** Weibull distribution of the age at failure of those units. */
  readonly shape: number;
  readonly scale: number;
  readonly logLikelihood: number;
  /** Large-sample, of the estimates of the logit of the share, ln scale and minus ln shape. */
  readonly covariance: readonly (readonly number[])[];
  /** Twice the gain in log likelihood over a Weibull distribution for all units, and its p-value. */
  readonly ratio: number;
  readonly p: number;
}

export type DefectiveFractionRefusal = "too-few-failures" | "no-plain-fit" | "no-better-than-plain";

/** Three parameters; fewer failures than this do not bend the curve enough. Engineering default, no authority. */
const FEWEST_FAILURES = 5;
const STARTING_SHARES = [1.2, 2, 10] as const;
/** A share of 0.9997: from there on the search goes towards "all of them" and is given up. */
const LARGEST_LOGIT = 8;

/**
 * Answers: can all units fail, or only a part of them (one lot, one joining job), and how large a part?
 *
 * Model: share p can fail, by a Weibull distribution F, the others never of this cause. Log likelihood = sum over failures
 * of ln(p f(t)) + sum over the running of ln(1 - p F(t)) - sum over late entries of ln(1 - p F(entry)), at its maximum.
 * The test against p = 1 halves the chi-square tail on 1 degree of freedom, since 1 is the edge of what p can be.
 *
 * "no-better-than-plain" where the likelihood rises towards p = 1: no sign of a part that never fails. The curve must have
 * flattened for an answer: a share estimated long before that is a guess with wide limits.
 * Sources: Meeker, Technometrics 29 (1987) 51-65; Self & Liang, JASA 82 (1987) 605-610 (halved tail).
 */
export function fitDefectiveFraction(
  counts: readonly LifeCount[],
): DefectiveFraction | { readonly kind: "refused"; readonly reason: DefectiveFractionRefusal } {
  const failures = countFailures(counts);
  if (failures < FEWEST_FAILURES) return { kind: "refused", reason: "too-few-failures" };
  const plain = fitWeibull(counts);
  if (plain.kind === "refused") return { kind: "refused", reason: "no-plain-fit" };
  const terms = partTerms(counts);
  const likelihood = (x: readonly number[]) => partSlopes(terms, x);
  const failedSoFar = failures / counts.reduce((sum, { entered }) => sum + entered, 0);
  const middle = medianFailureAge(counts, failures);
  let best: Summit | null = null;
  for (const factor of STARTING_SHARES) {
    const share = Math.min(0.9, factor * failedSoFar);
    const start = [Math.log(share / (1 - share)), Math.log(middle), -Math.log(Math.max(0.3, plain.shape))];
    best = newtonMaximum(likelihood, start, ([logit = 0]) => logit > LARGEST_LOGIT);
    if (best !== null && best.value > plain.logLikelihood) break;
  }
  if (best === null || !(best.value > plain.logLikelihood)) {
    return { kind: "refused", reason: "no-better-than-plain" };
  }
  const [logit = 0, mu = 0, logSigma = 0] = best.at;
  const ratio = 2 * (best.value - plain.logLikelihood);
  return {
    kind: "fit",
    share: logistic(logit),
    shape: Math.exp(-logSigma),
    scale: Math.exp(mu),
    logLikelihood: best.value,
    covariance: best.covariance,
    ratio,
    p: chiSquareTail(ratio, 1) / 2,
  };
}

export function logistic(x: number): number {
  return 1 / (1 + Math.exp(-x));
}

export interface PartTerm {
  readonly logAge: number;
  readonly failed: number;
  /** Left running at this age, less those that came under observation at it. */
  readonly running: number;
}

export function partTerms(counts: readonly LifeCount[]): PartTerm[] {
  return counts
    .filter(({ age }) => age > 0)
    .map(({ age, entered, failed, censored }) => ({ logAge: Math.log(age), failed, running: censored - entered }));
}

/** Of the log likelihood of a part that can fail, by logit of the share, mu = ln scale, and ln sigma = -ln shape. */
export function partSlopes(terms: readonly PartTerm[], [logit = 0, mu = 0, logSigma = 0]: readonly number[]): Slopes {
  const share = logistic(logit);
  const sigma = Math.exp(logSigma);
  let [value, byLogit, byMu, byLogSigma] = [0, 0, 0, 0];
  for (const { logAge, failed, running } of terms) {
    const z = (logAge - mu) / sigma;
    const hazard = Math.exp(z);
    if (failed > 0) {
      value += failed * (Math.log(share) + z - hazard - logSigma - logAge);
      byLogit += failed * (1 - share);
      byMu += (failed * (hazard - 1)) / sigma;
      byLogSigma += failed * (z * (hazard - 1) - 1);
    }
    if (running === 0) continue;
    // ln(1 - p F), with p F = share of all units failed by this age.
    const failedOfPart = -Math.expm1(-hazard);
    const weight = running / (1 - share * failedOfPart);
    const density = share * hazard * (1 - failedOfPart);
    value += running * Math.log1p(-share * failedOfPart);
    byLogit -= weight * share * (1 - share) * failedOfPart;
    byMu += (weight * density) / sigma;
    byLogSigma += weight * density * z;
  }
  return { value, gradient: [byLogit, byMu, byLogSigma] };
}

function medianFailureAge(counts: readonly LifeCount[], failures: number): number {
  let before = 0;
  for (const { age, failed } of counts) {
    before += failed;
    if (2 * before >= failures) return age;
  }
  return 1;
}
