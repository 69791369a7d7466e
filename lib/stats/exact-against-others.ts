import { twoSidedP } from "./exact-family";
import type { RiskSet } from "./risk-sets";
import { chancesOfSum, type Draws } from "./sum-of-draws";
import { tiltedLimits } from "./tilted-limits";
import { isShared, type TwoSides } from "./two-sides";

/**
 * Answers: had all groups failed alike at equal ages, how rarely would each group have had as many failures as it has, or as
 * few? The log-rank test of each group against all others, with its exact distribution in place of the normal one, which far
 * below one expected failure calls a single failure a sure sign.
 *
 * Given who is at risk at each failure age, a failure is the group's with the chance of its share of them; of failures on one
 * day the number that is its own is hypergeometric (drawn with replacement where those at risk are weighed and not whole).
 * The distribution of the sum over the ages is exact. Two-sided mid-p; the limits of the hazard ratio shown beside it
 * (`exactRatioLimits`) are of the same distribution, so that the two never contradict each other.
 *
 * One p a group, in their order; null for a group that shares no failure age with another.
 * Sources: Mantel, Cancer Chemother. Rep. 50 (1966) 163-170 for the conditional distribution; Berry & Armitage, The
 * Statistician 44 (1995) 417-423 for the mid-p.
 */
export function exactAgainstOthers(strata: readonly Iterable<RiskSet>[], groupCount: number): (number | null)[] {
  const ages = strata.flatMap((sets) =>
    [...sets].map((set) => ({ ...set, all: total(set.atRisk), ties: total(set.failed) })),
  );
  return Array.from({ length: groupCount }, (_, g) => {
    const deals = new Deals(ages.length);
    for (const { atRisk, failed, all, ties } of ages) {
      const own = atRisk[g] ?? 0;
      if (own > 0 && all - own > 0 && ties > 0) deals.add(own, all, ties, failed[g] ?? 0);
    }
    return deals.count === 0 ? null : midP(deals);
  });
}

/** The same of one group, from the columns of its strata. */
export function exactOfSides(strata: readonly TwoSides[]): number | null {
  const deals = new Deals(strata.reduce((sum, { ages }) => sum + ages.length, 0));
  for (const sides of strata) {
    const { ages, own, all, ownFailed, allFailed } = sides;
    for (let i = 0; i < ages.length; i++)
      if (isShared(sides, i)) deals.add(own[i] ?? 0, all[i] ?? 0, allFailed[i] ?? 0, ownFailed[i] ?? 0);
  }
  return deals.count === 0 ? null : midP(deals);
}

/** Failures of one age, dealt to those at risk. */
export interface Draw {
  /** Of the group, and of all, at risk. */
  readonly own: number;
  readonly all: number;
  /** Failures, of all and of the group. */
  readonly ties: number;
  readonly ownFailed: number;
}

/**
 * Answers: with which hazard ratios is a count like the group's not rare? Those at which neither mid-p tail is below half of
 * (1 - confidence): 1 is among them if, and only if, the two-sided p of `exactAgainstOthers` is not below 1 - confidence.
 *
 * A failure is the group's with a chance proportional to its number at risk times the ratio, so that given all else the chance of each
 * count is that at ratio 1 times the ratio to the power of the count (of failures on one day: Fisher's noncentral hypergeometric
 * distribution). Lower limit 0 where the group cannot have had fewer, upper limit null where it cannot have had more.
 *
 * @param draws not empty. Sources as for `exactAgainstOthers`; Fisher, J. R. Statist. Soc. 98 (1935) 39-54.
 */
export function exactRatioLimits(
  draws: readonly Draw[],
  confidence: number,
): { readonly lower: number; readonly upper: number | null } {
  const deals = new Deals(draws.length);
  for (const { own, all, ties, ownFailed } of draws) deals.add(own, all, ties, ownFailed);
  const { factor, first, chances } = aroundSeen(deals);
  const logChances = chances.map((chance) => Math.log(Math.max(0, chance)));
  const { lower, upper } = tiltedLimits(logChances, deals.observed - first, (1 - confidence) / 2);
  return {
    lower: lower === null ? 0 : factor * Math.exp(lower),
    upper: upper === null ? null : factor * Math.exp(upper),
  };
}

/** Age by age those at risk, of the group and of all, and how many failed: as columns, since there are thousands for each of hundreds of groups. */
class Deals {
  count = 0;
  observed = 0;
  readonly own: Float64Array;
  readonly all: Float64Array;
  readonly ties: Float64Array;

  constructor(most: number) {
    this.own = new Float64Array(most);
    this.all = new Float64Array(most);
    this.ties = new Float64Array(most);
  }

  add(own: number, all: number, ties: number, ownFailed: number): void {
    this.own[this.count] = own;
    this.all[this.count] = all;
    this.ties[this.count] = ties;
    this.observed += ownFailed;
    this.count += 1;
  }
}

function midP(deals: Deals): number {
  const { observed } = deals;
  const { factor, logScale, first, chances } = aroundSeen(deals);
  const chanceOf = (count: number) =>
    Math.max(0, chances[count - first] ?? 0) * Math.exp(logScale - count * Math.log(factor));
  const exactly = chanceOf(observed);
  let beyond = 0;
  // From the far end, where the small ones are.
  if (factor >= 1) for (let k = first + chances.length - 1; k > observed; k--) beyond += chanceOf(k);
  else for (let k = first; k < observed; k++) beyond += chanceOf(k);
  const [tail, other] = [exactly + beyond, 1 - beyond];
  return twoSidedP(
    factor >= 1 ? { atLeast: tail, atMost: other, exactly } : { atMost: tail, atLeast: other, exactly },
    "mid-p",
  );
}

/**
 * The chances of the sum are worked out as those of a distribution whose mean is the number seen (each chance times `factor` to the number
 * drawn, made to sum to 1 again): then all that either tail is made of lies within some standard deviations of it, however rare it is.
 * Multiplied back they are the chances asked for, small tails to the last digits.
 */
function aroundSeen(deals: Deals) {
  const factor = factorFor(deals);
  const { draws, logScale } = weighedDraws(deals, factor);
  return { factor, logScale, ...chancesOfSum(draws) };
}

/** By which power of ten the factor may lie from 1. Engineering default, no authority. */
const MOST_DECADES = 12;
/** No factor moves the mean to where nothing, or everything, is the group's; from so far beside it what is next to it is carried too. */
const FROM_THE_ENDS = 0.5;

/** The factor with which the mean of the sum is the number seen; found well enough where draws without replacement are taken for others. */
function factorFor({ count, own, all, ties, observed }: Deals): number {
  let most = 0;
  for (let i = 0; i < count; i++) most += ties[i] ?? 0;
  const wanted = Math.min(Math.max(observed, FROM_THE_ENDS), most - FROM_THE_ENDS);
  let [low, high] = [-MOST_DECADES, MOST_DECADES];
  while (high - low > 1e-3) {
    const middle = (low + high) / 2;
    const factor = 10 ** middle;
    let mean = 0;
    for (let i = 0; i < count; i++) {
      const its = (own[i] ?? 0) * factor;
      mean += ((ties[i] ?? 0) * its) / ((all[i] ?? 0) - (own[i] ?? 0) + its);
    }
    if (mean < wanted) low = middle;
    else high = middle;
  }
  return 10 ** ((low + high) / 2);
}

/** Chances of the group's number among the failures of each age, weighed by the factor, and the logarithm of what they were divided by. */
function weighedDraws({ count, own, all, ties }: Deals, factor: number): { draws: Draws; logScale: number } {
  const chances = new Float64Array(ties.reduce((sum, d) => sum + d + 1, count));
  const start = new Int32Array(count);
  const degree = new Int32Array(count);
  const power = new Int32Array(count);
  let logScale = 0;
  let next = 0;
  for (let i = 0; i < count; i++) {
    const [its, together, failed] = [own[i] ?? 0, all[i] ?? 0, ties[i] ?? 0];
    const isWhole = Number.isSafeInteger(its) && Number.isSafeInteger(together) && failed <= together;
    const drawnAtOnce = isWhole ? failed : 1;
    start[i] = next;
    degree[i] = drawnAtOnce;
    power[i] = failed / drawnAtOnce;
    const ofIts = chances.subarray(next, next + drawnAtOnce + 1);
    hypergeometric(ofIts, its, together);
    let scale = 0;
    for (let k = 0, weight = 1; k <= drawnAtOnce; k++, weight *= factor) {
      ofIts[k] = (ofIts[k] ?? 0) * weight;
      scale += ofIts[k] ?? 0;
    }
    for (let k = 0; k <= drawnAtOnce; k++) ofIts[k] = (ofIts[k] ?? 0) / scale;
    logScale += (power[i] ?? 0) * Math.log(scale);
    next += drawnAtOnce + 1;
  }
  return { draws: { count, chances, start, degree, power }, logScale };
}

/** Fills in the chances of 0, 1, ... of the group's among as many failures as there is room for; whole numbers at risk, each unit failing once. */
function hypergeometric(chances: Float64Array, own: number, all: number): void {
  chances[0] = 1;
  for (let l = 0; l < chances.length - 1; l++) {
    for (let k = l; k >= 0; k--) {
      const chance = chances[k] ?? 0;
      const ownShare = Math.min(1, Math.max(0, (own - k) / (all - l)));
      chances[k + 1] = (chances[k + 1] ?? 0) + chance * ownShare;
      chances[k] = chance * (1 - ownShare);
    }
  }
}

function total(values: Iterable<number>): number {
  let all = 0;
  for (const value of values) all += value;
  return all;
}
