import { twoSidedP } from "./exact-family";
import type { RiskSet } from "./risk-sets";

/**
 * Answers: had all groups failed alike at equal ages, how rarely would each group have had as many failures as it has, or as
 * few? The log-rank test of each group against all others, with its exact distribution in place of the normal one, which far
 * below one expected failure calls a single failure a sure sign.
 *
 * Given who is at risk at each failure age, a failure is the group's with the chance of its share of them; of failures on one
 * day the number that is its own is hypergeometric (drawn with replacement where those at risk are weighed and not whole).
 * The distribution of the sum is carried from age to age. Two-sided mid-p, which agrees with the
 * likelihood-ratio limits of the hazard ratio shown beside it where a doubled exact tail would contradict them.
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
    const draws: Draw[] = [];
    for (const { atRisk, failed, all, ties } of ages) {
      const own = atRisk[g] ?? 0;
      if (own > 0 && all - own > 0 && ties > 0) draws.push({ own, all, ties, ownFailed: failed[g] ?? 0 });
    }
    return draws.length === 0 ? null : midP(draws);
  });
}

interface Draw {
  /** Of the group, and of all, at risk at the age. */
  readonly own: number;
  readonly all: number;
  /** Failures at the age, of all and of the group. */
  readonly ties: number;
  readonly ownFailed: number;
}

/** Chances of less are left out where the sum is carried on, of distributions whose middle is the number seen. */
const LEAST_CARRIED = 1e-40;

/**
 * The chances of the sum are carried as those of a distribution whose mean is the number seen (each chance times `factor` to the number
 * drawn, made to sum to 1 again): then all that either tail is made of lies within some standard deviations of it, however rare it is, and the
 * rest need not be carried. Multiplied back they are the chances asked for, small tails to the last digits.
 */
function midP(draws: readonly Draw[]): number {
  const observed = total(draws.map(({ ownFailed }) => ownFailed));
  const factor = factorFor(draws, observed);
  const sum = new CarriedSum();
  let logScale = 0;
  for (const draw of draws) {
    if (draw.ties === 1 || !isWhole(draw)) {
      const share = draw.own / draw.all;
      const scale = 1 - share + share * factor;
      for (let l = 0; l < draw.ties; l++) sum.addOne((share * factor) / scale, (1 - share) / scale);
      logScale += draw.ties * Math.log(scale);
    } else {
      const weighed = hypergeometric(draw).map((chance, drawn) => chance * factor ** drawn);
      const scale = total(weighed);
      sum.addDrawn(weighed.map((chance) => chance / scale));
      logScale += Math.log(scale);
    }
  }
  const chanceOf = (count: number) => sum.at(count) * Math.exp(logScale - count * Math.log(factor));
  const exactly = chanceOf(observed);
  let beyond = 0;
  // From the far end, where the small ones are.
  if (factor >= 1) for (let k = sum.last; k > observed; k--) beyond += chanceOf(k);
  else for (let k = sum.first; k < observed; k++) beyond += chanceOf(k);
  const [tail, other] = [exactly + beyond, 1 - beyond];
  return twoSidedP(
    factor >= 1 ? { atLeast: tail, atMost: other, exactly } : { atMost: tail, atLeast: other, exactly },
    "mid-p",
  );
}

/** By which power of ten the factor may lie from 1: where nothing, or everything, is the group's, none moves the mean there. */
const MOST_DECADES = 12;

/** The factor with which the mean of the sum is the number seen; found well enough where draws without replacement are taken for others. */
function factorFor(draws: readonly Draw[], observed: number): number {
  let [low, high] = [-MOST_DECADES, MOST_DECADES];
  while (high - low > 1e-3) {
    const middle = (low + high) / 2;
    const factor = 10 ** middle;
    let mean = 0;
    for (const { own, all, ties } of draws) mean += (ties * own * factor) / (all - own + own * factor);
    if (mean < observed) low = middle;
    else high = middle;
  }
  return 10 ** ((low + high) / 2);
}

/** Chances of the numbers from `first` to `last` of a sum to which draw after draw is added. */
class CarriedSum {
  first = 0;
  last = 0;
  private chances = new Float64Array(64);

  constructor() {
    this.chances[0] = 1;
  }

  at(count: number): number {
    return count < this.first || count > this.last ? 0 : (this.chances[count] ?? 0);
  }

  /** One failure that is the group's with the chance `share`. */
  addOne(share: number, rest: number): void {
    const { first, last } = this;
    const chances = this.withRoomFor(last + 1);
    chances[last + 1] = (chances[last] ?? 0) * share;
    for (let k = last; k > first; k--) chances[k] = (chances[k] ?? 0) * rest + (chances[k - 1] ?? 0) * share;
    chances[first] = (chances[first] ?? 0) * rest;
    this.last = last + 1;
    this.leaveOutEnds();
  }

  /** A number drawn with the chances given, of 0, 1, ... */
  addDrawn(ofDrawn: readonly number[]): void {
    const { first, last } = this;
    const most = ofDrawn.length - 1;
    const chances = this.withRoomFor(last + most);
    for (let k = last + most; k >= first; k--) {
      let chance = 0;
      for (let drawn = Math.max(0, k - last); drawn <= Math.min(most, k - first); drawn++)
        chance += (chances[k - drawn] ?? 0) * (ofDrawn[drawn] ?? 0);
      chances[k] = chance;
    }
    this.last = last + most;
    this.leaveOutEnds();
  }

  private leaveOutEnds(): void {
    while (this.first < this.last && (this.chances[this.first] ?? 0) < LEAST_CARRIED) this.first += 1;
    while (this.last > this.first && (this.chances[this.last] ?? 0) < LEAST_CARRIED) this.last -= 1;
  }

  private withRoomFor(count: number): Float64Array {
    if (count >= this.chances.length) {
      const wider = new Float64Array(2 * count);
      wider.set(this.chances);
      this.chances = wider;
    }
    return this.chances;
  }
}

function isWhole({ own, all, ties }: Draw): boolean {
  return Number.isSafeInteger(own) && Number.isSafeInteger(all) && ties <= all;
}

/** Chances of 0, 1, ... of the group's among the failures of an age; whole numbers at risk, each unit failing once. */
function hypergeometric({ own, all, ties }: Draw): number[] {
  let chances = [1];
  for (let l = 0; l < ties; l++) {
    const next = new Array<number>(chances.length + 1).fill(0);
    for (const [k, chance] of chances.entries()) {
      const ownShare = Math.min(1, Math.max(0, (own - k) / (all - l)));
      next[k] = (next[k] ?? 0) + chance * (1 - ownShare);
      next[k + 1] = (next[k + 1] ?? 0) + chance * ownShare;
    }
    chances = next;
  }
  return chances;
}

function total(values: Iterable<number>): number {
  let all = 0;
  for (const value of values) all += value;
  return all;
}
