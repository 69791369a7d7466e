import { twoSidedP } from "./exact-family";
import type { RiskSet } from "./risk-sets";

/**
 * Answers: had all groups failed alike at equal ages, how rarely would each group have had as many failures as it has, or as
 * few? The log-rank test of each group against all others, with its exact distribution in place of the normal one, which far
 * below one expected failure calls a single failure a sure sign.
 *
 * Given who is at risk at each failure age, a failure is the group's with the chance of its share of them; of failures on one
 * day the number that is its own is hypergeometric (drawn with replacement where those at risk are weighed and not whole).
 * The distribution of the sum is carried from age to age up to the number seen. Two-sided mid-p, which agrees with the
 * likelihood-ratio limits of the hazard ratio shown beside it where a doubled exact tail would contradict them.
 *
 * One p a group, in their order; null for a group that shares no failure age with another.
 * Sources: Mantel, Cancer Chemother. Rep. 50 (1966) 163-170 for the conditional distribution; Berry & Armitage, The
 * Statistician 44 (1995) 417-423 for the mid-p.
 */
export function exactAgainstOthers(strata: readonly Iterable<RiskSet>[], groupCount: number): (number | null)[] {
  const ages = strata.flatMap((sets) =>
    [...sets].map((set) => ({ ...set, all: sum(set.atRisk), ties: sum(set.failed) })),
  );
  return Array.from({ length: groupCount }, (_, g) => {
    const draws: Draw[] = [];
    for (const { atRisk, failed, all, ties } of ages) {
      const own = atRisk[g] ?? 0;
      if (own > 0 && all - own > 0) draws.push({ own, all, ties, ownFailed: failed[g] ?? 0 });
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

function midP(draws: readonly Draw[]): number {
  const observed = draws.reduce((total, { ownFailed }) => total + ownFailed, 0);
  // Chances of each number up to the one seen, and of more than that: never one minus a sum, which loses small tails.
  const chances = new Float64Array(observed + 1);
  chances[0] = 1;
  let above = 0;
  for (const draw of draws) {
    if (draw.ties === 1 || !isWhole(draw)) {
      for (let l = 0; l < draw.ties; l++) above += addOne(chances, draw.own / draw.all);
    } else above += addDraw(chances, hypergeometric(draw));
  }
  const exactly = chances[observed] ?? 0;
  return twoSidedP({ atLeast: exactly + above, atMost: sum(chances), exactly }, "mid-p");
}

/** Adds one failure that is the group's with the chance given; returns the chance that went above the last number. */
function addOne(chances: Float64Array, share: number): number {
  const last = chances.length - 1;
  const rest = 1 - share;
  const above = (chances[last] ?? 0) * share;
  for (let k = last; k > 0; k--) chances[k] = (chances[k] ?? 0) * rest + (chances[k - 1] ?? 0) * share;
  chances[0] = (chances[0] ?? 0) * rest;
  return above;
}

/** Adds a number drawn with the chances given (of 0, 1, ...) to the sum; returns the chance that went above the last one. */
function addDraw(chances: Float64Array, ofDrawn: readonly number[]): number {
  const last = chances.length - 1;
  let above = 0;
  for (let k = last; k >= 0; k--) {
    const before = chances[k] ?? 0;
    chances[k] = 0;
    for (const [drawn, chance] of ofDrawn.entries()) {
      if (k + drawn > last) above += before * chance;
      else chances[k + drawn] = (chances[k + drawn] ?? 0) + before * chance;
    }
  }
  return above;
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

function sum(values: Iterable<number>): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}
