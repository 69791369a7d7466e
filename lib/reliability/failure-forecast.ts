import { addFailureCount, countQuantile } from "@/lib/stats/binomial-mixture";
import { normalGrid } from "@/lib/stats/normal-grid";
import { type WeibullCovariance, weibullCovariance } from "@/lib/stats/weibull-covariance";
import type { WeibullFit } from "@/lib/stats/weibull-fit";

/**
 * Steps, in standard deviations, of the grid over the doubt about the fit: fine in the direction in which the expected
 * number changes most, since there the limits are read off, coarse across it.
 */
const FINE_STEP = 0.125;
const COARSE_STEP = 0.5;

/** Where more of the expected failures lie at ages no pack has reached the fit would only be guessing. Engineering default, no authority. */
export const MOST_BEYOND_OBSERVED = 0.5;

/** Ages are put together in at most so many classes for the limits, so that their cost does not grow with the fleet. */
const AGE_CLASSES = 400;

export interface FailureForecast {
  readonly kind: "forecast";
  /** Failures to expect if the fitted Weibull were the truth. */
  readonly expected: number;
  readonly lower: number;
  readonly upper: number;
  /** Share of the expected failures at ages older than any yet seen, 0 to 1: there the fit is carried on untested. */
  readonly beyondObserved: number;
  /** Probability of each number of failures, from 0. */
  readonly distribution: Float64Array;
}

export type ForecastRefusal = "nothing-running" | "horizon-beyond-observed-ages" | "fit-too-uncertain";

export interface RunningUnits {
  readonly age: number;
  readonly units: number;
}

/**
 * Answers: how many of the units now running will fail within `horizon` (in the unit of the ages)?
 *
 * Expected number = sum over running units of [F(age + horizon) - F(age)] / [1 - F(age)] of the fitted Weibull. The
 * limits hold both chance and doubt about the fit: the failure count's distribution is averaged over the large-sample
 * normal distribution of ln scale and ln shape. With few failures they are wide, and ought to be.
 *
 * Refused: nothing running, a horizon longer than the largest age seen, a fit without a usable covariance.
 * Source: Meeker & Escobar, Statistical Methods for Reliability Data (1998), sections 12.5 to 12.7.
 */
export function forecastFailures(
  fit: WeibullFit,
  running: readonly RunningUnits[],
  horizon: number,
  confidence = 0.95,
): FailureForecast | { readonly kind: "refused"; readonly reason: ForecastRefusal } {
  if (!(horizon > 0)) throw new RangeError(`horizon must be above 0, got ${horizon}`);
  const totalRunning = running.reduce((sum, { units }) => sum + units, 0);
  const { largestAge } = fit.likelihood;
  if (totalRunning === 0) return { kind: "refused", reason: "nothing-running" };
  if (horizon > largestAge) return { kind: "refused", reason: "horizon-beyond-observed-ages" };

  const classes = inAgeClasses(running, largestAge);
  const { sum: expected } = failureSums(running, horizon, fit.shape, fit.scale);
  const { sum: within } = failureSums(running, horizon, fit.shape, fit.scale, largestAge);
  const beyondObserved = expected > 0 ? 1 - within / expected : 0;
  const mixture = countDistribution(fittedLaw(fit), totalRunning, (shape, scale) =>
    failureSums(classes, horizon, shape, scale),
  );
  if (mixture === null) return { kind: "refused", reason: "fit-too-uncertain" };
  return {
    kind: "forecast",
    expected,
    lower: countQuantile(mixture, (1 - confidence) / 2),
    upper: countQuantile(mixture, (1 + confidence) / 2),
    beyondObserved,
    distribution: mixture,
  };
}

/** A fitted law with the doubt about it: all that a forecast needs of a fit, and plain numbers, so that it can be kept. */
export interface FittedLaw {
  readonly shape: number;
  readonly scale: number;
  readonly doubt: WeibullCovariance;
}

export function fittedLaw(fit: WeibullFit): FittedLaw {
  return { shape: fit.shape, scale: fit.scale, doubt: weibullCovariance(fit) };
}

/**
 * Distribution of the number of failures, chance and doubt about the fit together: entry k is the probability of k.
 * `sumsAt` gives the sums of the failure probabilities and of their squares for a shape and a scale. Null where the fit has
 * no usable covariance.
 */
export function countDistribution(
  law: FittedLaw,
  mostFailures: number,
  sumsAt: (shape: number, scale: number) => { sum: number; sumOfSquares: number },
): Float64Array | null {
  const parameters = parameterSpread(law);
  if (parameters === null) return null;
  const at = (z1: number, z2: number) => {
    const { shape, scale } = parameters(z1, z2);
    return sumsAt(shape, scale);
  };
  const [along, across] = steepestDirection((z1, z2) => Math.log(at(z1, z2).sum));
  const mixture = new Float64Array(mostFailures + 1);
  const coarseGrid = normalGrid(COARSE_STEP);
  for (const fine of normalGrid(FINE_STEP)) {
    for (const coarse of coarseGrid) {
      const sums = at(along * fine.z - across * coarse.z, across * fine.z + along * coarse.z);
      addFailureCount(mixture, { ...sums, weight: fine.weight * coarse.weight });
    }
  }
  return mixture;
}

/** Running units by age class, each at the mean age of its units; as they are where their ages are few. */
function inAgeClasses(running: readonly RunningUnits[], largestAge: number): readonly RunningUnits[] {
  if (running.length <= AGE_CLASSES) return running;
  const classes = new Map<number, { ageSum: number; units: number }>();
  for (const { age, units } of running) {
    const number = Math.floor((age / largestAge) * AGE_CLASSES);
    const known = classes.get(number) ?? { ageSum: 0, units: 0 };
    classes.set(number, { ageSum: known.ageSum + age * units, units: known.units + units });
  }
  return [...classes.values()].map(({ ageSum, units }) => ({ age: ageSum / units, units }));
}

/** Shape and scale at a point of two independent standard normal variables; null without a usable covariance. */
function parameterSpread(law: FittedLaw): ((z1: number, z2: number) => { shape: number; scale: number }) | null {
  const { varianceMu, varianceLogSigma, covariance } = law.doubt;
  const spreadMu = Math.sqrt(varianceMu);
  const slope = covariance / spreadMu;
  const spreadLogSigma = Math.sqrt(varianceLogSigma - slope * slope);
  if (!(spreadMu > 0 && spreadLogSigma > 0)) return null;
  return (z1, z2) => ({
    shape: law.shape * Math.exp(-(slope * z1 + spreadLogSigma * z2)),
    scale: law.scale * Math.exp(spreadMu * z1),
  });
}

/** Unit vector along which a function of two variables changes most around 0. */
function steepestDirection(f: (z1: number, z2: number) => number): [number, number] {
  const change1 = f(0.5, 0) - f(-0.5, 0);
  const change2 = f(0, 0.5) - f(0, -0.5);
  const length = Math.hypot(change1, change2);
  return length > 0 ? [change1 / length, change2 / length] : [1, 0];
}

function failureSums(
  running: readonly RunningUnits[],
  horizon: number,
  shape: number,
  scale: number,
  lastAge = Number.POSITIVE_INFINITY,
): { sum: number; sumOfSquares: number } {
  let sum = 0;
  let sumOfSquares = 0;
  for (const { age, units } of running) {
    const end = Math.max(age, Math.min(age + horizon, lastAge));
    // 1 - S(end) / S(age), kept exact where it is small.
    const probability = -Math.expm1((age / scale) ** shape - (end / scale) ** shape);
    sum += units * probability;
    sumOfSquares += units * probability * probability;
  }
  return { sum, sumOfSquares };
}
