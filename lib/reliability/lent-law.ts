import { type CommonShape, fitCommonShape } from "@/lib/stats/common-shape";
import { countFailures, type LifeCount, pooledCounts } from "@/lib/stats/life-counts";
import type { PartWeibull } from "@/lib/stats/part-weibull";
import { weibayes } from "@/lib/stats/weibayes";
import { weibullLikelihood } from "@/lib/stats/weibull-likelihood";
import { type FailureLaw, FEWEST_FOR_LAW, type LentShape } from "./failure-law";
import { mixedOverRates, scaleAt } from "./rate-mixture";

/**
 * What stands for a normal variable in an integral where three points are enough, exact up to the fifth power. Source: Abramowitz &
 * Stegun (1964), table 25.10, n = 3, there for exp(-x^2).
 */
const NORMAL_POINTS = [
  { z: -Math.sqrt(3), weight: 1 / 6 },
  { z: 0, weight: 2 / 3 },
  { z: Math.sqrt(3), weight: 1 / 6 },
] as const;

/**
 * So many failures are added, in as much time as the likes take to have them: none seen so far is then no certainty of none to come, and of
 * units that fail as their likes no more is expected than is true. Half a failure is what Jeffreys' rule adds to a Poisson count (from memory).
 * It draws units that fail more often than their likes towards them, so the upper limit is taken without that time.
 */
const ADDED_FAILURES = 0.5;

/** The shape common to the others of a model, each group of them at a rate of its own, to be lent; null where they have too few failures for one. */
export function lendersLaw(likes: readonly (readonly LifeCount[])[]): CommonShape | null {
  const common = fitCommonShape(likes);
  return common === null || common.failures < FEWEST_FOR_LAW ? null : common;
}

/**
 * Answers: by which law do units fail of which fewer than `FEWEST_FOR_LAW` have? How the hazard changes with age is taken from
 * within the groups of their likes, with their doubt about it; how great it is from the failures and the time watched of the units themselves
 * (Weibayes), and half a failure of the likes. Up to the oldest age they were watched at themselves. Null where the likes lend no shape, or nothing was watched.
 *
 * With the shape b the failures are Poisson with mean A(b) / scale^b, A(b) the sum over units of exit^b - entry^b. Source: AFWAL-TR-83-2079,
 * Weibull Analysis Handbook (1983), chapter 6.
 *
 * @param likes each group of them by itself.
 */
export function lentLaw(counts: readonly LifeCount[], likes: readonly (readonly LifeCount[])[]): FailureLaw | null {
  const lenders = lendersLaw(likes);
  const { largestAge, exposure } = weibullLikelihood(counts);
  if (lenders === null || !(largestAge > 0)) return null;
  const failures = countFailures(counts);
  const { shape, varianceLogSigma } = lenders;
  const pooled = pooledCounts(likes);
  const exposuresAt = (b: number) => {
    const ownExposure = exposure(b).a;
    return { shape: b, ownExposure, exposure: ownExposure + addedExposure(pooled, b, largestAge) };
  };
  const points = NORMAL_POINTS.map(({ z, weight }) => {
    return { ...exposuresAt(shape * Math.exp(z * Math.sqrt(varianceLogSigma))), weight };
  });
  const mean = failures + ADDED_FAILURES;
  return {
    shape,
    scale: scaleAt(largestAge, exposuresAt(shape), mean),
    doubt: { varianceMu: 1 / (shape * shape * mean), varianceLogSigma, covariance: 0 },
    part: null,
    lent: { failures, ofLenders: lenders.failures, points },
    largestAge,
    quiet: null,
  };
}

/**
 * Distribution of the number of failures by a law whose shape is lent, from 0: chance, the doubt about the rate (gamma, by its quantiles)
 * and that about the shape mixed. Below the middle the rate is drawn towards that of the likes, above it the units' own alone speaks: how
 * often they fail is then given away by nothing but themselves, were they many times as bad as their likes.
 */
export function lentCounts(
  { lent, largestAge }: { readonly lent: LentShape; readonly largestAge: number },
  mostFailures: number,
  sumsAt: (values: PartWeibull) => { readonly sum: number; readonly sumOfSquares: number },
): Float64Array {
  const countsOf = (exposureOf: (point: LentPoint) => number) => {
    const points = lent.points.map(({ shape, weight, ...point }) => {
      return { shape, weight, exposure: exposureOf({ shape, weight, ...point }) };
    });
    return mixedOverRates({ failures: lent.failures + ADDED_FAILURES, largestAge, points }, mostFailures, sumsAt);
  };
  const drawn = countsOf(({ exposure }) => exposure);
  if (lent.points.every(({ ownExposure }) => ownExposure === undefined)) return drawn;
  return lowerAndUpperHalf(
    drawn,
    countsOf(({ exposure, ownExposure }) => ownExposure ?? exposure),
  );
}

/** Quantiles of the first up to the median, of the second from there; the second has none smaller. */
function lowerAndUpperHalf(first: Float64Array, second: Float64Array): Float64Array {
  let [upToFirst, upToSecond, told] = [0, 0, 0];
  return first.map((share, count) => {
    upToFirst += share;
    upToSecond += second[count] ?? 0;
    const upTo = upToFirst <= 0.5 ? upToFirst : Math.max(0.5, upToSecond, told);
    const mass = upTo - told;
    told = upTo;
    return mass;
  });
}

type LentPoint = LentShape["points"][number];

/** In which the likes have as many failures as are added, if the shape is this. */
function addedExposure(likes: readonly LifeCount[], shape: number, largestAge: number): number {
  const found = weibayes(likes, shape);
  if ("kind" in found || found.scale === null) throw new RangeError("lenders have failed");
  return ADDED_FAILURES * (found.scale / largestAge) ** shape;
}
