import { type Draw, exactRatioLimits } from "./exact-against-others";
import { findRoot } from "./find-root";
import type { LifeCount } from "./life-counts";
import { type RiskSet, riskSets } from "./risk-sets";
import { isShared, type TwoSides } from "./two-sides";

export interface HazardRatio {
  readonly kind: "estimate";
  /** Hazard of the group over that of all others; 0 where only the others failed, null where only the group did. */
  readonly ratio: number | null;
  readonly lower: number;
  /** Null where the failures set no upper limit. */
  readonly upper: number | null;
  /** Of ln ratio, from the observed information; null where the ratio is 0 or null. */
  readonly standardErrorLog: number | null;
  /** Failures of the group, and of the others, at ages at which both were watched. */
  readonly failures: number;
  readonly otherFailures: number;
}

/** ln of hazard ratios searched; e^40 is without limit for any count of units. */
const LARGEST_LOG_RATIO = 40;

interface SharedAge {
  readonly group: number;
  readonly others: number;
  readonly groupFailed: number;
  readonly othersFailed: number;
  readonly groupFailedWeight: number;
  readonly othersFailedWeight: number;
}

/**
 * Answers: how many times the hazard of all others does one group have, at equal ages and within strata?
 *
 * Cox's partial likelihood for the single covariate "belongs to the group", ties after Efron, late entries by their risk
 * sets. Limits by the conditional distribution of the group's failures (`exactRatioLimits`), the one that the test against all others
 * has its mid-p from: with few failures those by likelihood ratio hold far less often than they say, and contradict that p.
 * Assumes a ratio that is the same at all ages.
 *
 * @param strata lists of groups, the same ones in each stratum (an empty list for a group it lacks); @param of the position
 * of the group meant. "no-comparison" where no failure age has both sides at risk.
 * Sources: Cox, J. R. Statist. Soc. B 34 (1972) 187-220; Efron, JASA 72 (1977) 557-565.
 */
export function hazardRatio(
  strata: readonly (readonly (readonly LifeCount[])[])[],
  of: number,
  confidence = 0.95,
): HazardRatio | { readonly kind: "no-comparison" } {
  return hazardRatioOfRiskSets(
    strata.map((groups) => riskSets(groups)),
    of,
    confidence,
  );
}

/** The same from risk sets, of which those at risk may be weighed: see `logRankOfRiskSets`. */
export function hazardRatioOfRiskSets(
  strata: readonly Iterable<RiskSet>[],
  of: number,
  confidence = 0.95,
): HazardRatio | { readonly kind: "no-comparison" } {
  return ratioAt(
    strata.flatMap((sets) => sharedAges(sets, of)),
    confidence,
  );
}

/** The same of one group, from the columns of its strata. */
export function hazardRatioOfSides(
  strata: readonly TwoSides[],
  confidence = 0.95,
): HazardRatio | { readonly kind: "no-comparison" } {
  return ratioAt(strata.flatMap(sharedAgesOfSides), confidence);
}

function ratioAt(ages: readonly SharedAge[], confidence: number): HazardRatio | { readonly kind: "no-comparison" } {
  const failures = ages.reduce((sum, age) => sum + age.groupFailed, 0);
  const otherFailures = ages.reduce((sum, age) => sum + age.othersFailed, 0);
  if (ages.length === 0) return { kind: "no-comparison" };
  const slope = (logRatio: number) => slopeAndInformation(ages, logRatio).slope;
  // With a single yes-or-no covariate the likelihood has no maximum only where one side never failed.
  const rises = otherFailures === 0;
  const falls = failures === 0;
  const best = rises ? LARGEST_LOG_RATIO : falls ? -LARGEST_LOG_RATIO : summitOf(slope);
  const { information } = slopeAndInformation(ages, best);
  return {
    kind: "estimate",
    ratio: rises ? null : falls ? 0 : Math.exp(best),
    ...exactRatioLimits(ages.map(drawOf), confidence),
    standardErrorLog: rises || falls ? null : 1 / Math.sqrt(information),
    failures,
    otherFailures,
  };
}

function drawOf({ group, others, groupFailed, othersFailed }: SharedAge): Draw {
  return { own: group, all: group + others, ties: groupFailed + othersFailed, ownFailed: groupFailed };
}

/** Where a falling slope is 0; it is above 0 at the smallest ratio searched and below at the largest. */
function summitOf(slope: (logRatio: number) => number): number {
  const atOne = slope(0);
  if (atOne === 0) return 0;
  return atOne > 0 ? rootOutward(slope, 0, 1) : rootOutward((logRatio) => -slope(logRatio), 0, -1);
}

/**
 * The root of a function that is above 0 at `from` and below it at the end of the search on the side of `step`: stepping out and
 * doubling spares most of the evaluations of a search over all ratios, each of which reads every failure.
 */
function rootOutward(f: (logRatio: number) => number, from: number, step: number): number {
  const farthest = step > 0 ? LARGEST_LOG_RATIO : -LARGEST_LOG_RATIO;
  let [near, far] = [from, from + step];
  while (Math.abs(far) < LARGEST_LOG_RATIO && f(far) > 0) [near, far] = [far, far + 2 * (far - from)];
  return findRoot(f, near, Math.abs(far) < LARGEST_LOG_RATIO ? far : farthest);
}

/** Failure ages at which both sides are at risk; the others add a constant to the likelihood. */
function sharedAges(sets: Iterable<RiskSet>, of: number): SharedAge[] {
  const ages: SharedAge[] = [];
  for (const { atRisk, failed, failedWeight = failed } of sets) {
    const [group, groupFailed, groupFailedWeight] = [atRisk[of] ?? 0, failed[of] ?? 0, failedWeight[of] ?? 0];
    const others = sum(atRisk) - group;
    const [othersFailed, othersFailedWeight] = [sum(failed) - groupFailed, sum(failedWeight) - groupFailedWeight];
    if (group > 0 && others > 0)
      ages.push({ group, others, groupFailed, othersFailed, groupFailedWeight, othersFailedWeight });
  }
  return ages;
}

function sharedAgesOfSides(sides: TwoSides): SharedAge[] {
  const { own, all, ownFailed, allFailed, ownWeight, allWeight } = sides;
  const shared: SharedAge[] = [];
  for (let i = 0; i < own.length; i++) {
    if (!isShared(sides, i)) continue;
    const [group, groupFailed, groupFailedWeight] = [own[i] ?? 0, ownFailed[i] ?? 0, ownWeight[i] ?? 0];
    const others = (all[i] ?? 0) - group;
    const othersFailed = (allFailed[i] ?? 0) - groupFailed;
    const othersFailedWeight = (allWeight[i] ?? 0) - groupFailedWeight;
    shared.push({ group, others, groupFailed, othersFailed, groupFailedWeight, othersFailedWeight });
  }
  return shared;
}

/** A plain loop: asked for every group at every age. */
function sum(values: readonly number[]): number {
  let total = 0;
  for (let i = 0; i < values.length; i++) total += values[i] ?? 0;
  return total;
}

/** Of the log partial likelihood by ln ratio. Efron: the l-th of d tied failures leaves l/d of them out of the risk set. */
function slopeAndInformation(ages: readonly SharedAge[], logRatio: number) {
  const ratio = Math.exp(logRatio);
  let slope = 0;
  let information = 0;
  for (const { group, others, groupFailed, othersFailed, groupFailedWeight, othersFailedWeight } of ages) {
    const ties = groupFailed + othersFailed;
    slope += groupFailed;
    for (let l = 0; l < ties; l++) {
      const weighed = (group - (l / ties) * groupFailedWeight) * ratio;
      const share = weighed / (weighed + others - (l / ties) * othersFailedWeight);
      slope -= share;
      information += share * (1 - share);
    }
  }
  return { slope, information };
}
