import { binomialDensity } from "./binomial-tails";
import { type ExactFamily, twoSidedP } from "./exact-family";
import { findRoot } from "./find-root";

/** Two groups with and without the mark: first [a, b], second [c, d]. */
export interface FourfoldTable {
  readonly first: readonly [withMark: number, without: number];
  readonly second: readonly [withMark: number, without: number];
}

export interface FisherExact {
  /** Two-sided, of equal shares. */
  readonly p: number;
  /** One-sided: probability of a first group as high as this one or higher, and as low or lower. */
  readonly pAtLeast: number;
  readonly pAtMost: number;
  /** Conditional maximum likelihood estimate; null where it is infinite. */
  readonly oddsRatio: number | null;
  readonly lower: number;
  /** Null where there is no upper limit. */
  readonly upper: number | null;
}

/** ln of odds ratios searched: e^60 is beyond any table of countable units. */
const LARGEST_LOG_ODDS = 60;

/**
 * Exact test of equal shares in two groups, with limits of the odds ratio of the same family (see `ExactFamily`).
 *
 * Given all four margins the first entry is hypergeometric, and with odds ratio w its probabilities are multiplied by
 * w^entry. For units of equal ages only: with unequal ages compare curves, not shares.
 * A table with an empty margin says nothing: p = 1, limits from 0 to null.
 *
 * Domain: whole entries from 0, else a RangeError.
 * Sources: Fisher, The Design of Experiments (1935), chapter II; Cornfield, Proc. 3rd Berkeley Symp. 4 (1956) 135-148.
 */
export function fisherExact(table: FourfoldTable, family: ExactFamily = "central", confidence = 0.95): FisherExact {
  const [[a, b], [c, d]] = [table.first, table.second];
  for (const entry of [a, b, c, d])
    if (!Number.isSafeInteger(entry) || entry < 0) throw new RangeError(`an entry must be whole from 0, got ${entry}`);
  const entries = firstEntries([a, b], [c, d]);
  if (entries.length < 2) return { p: 1, pAtLeast: 1, pAtMost: 1, oddsRatio: null, lower: 0, upper: null };
  const atLowest = a === entries[0]?.entry;
  const atHighest = a === entries.at(-1)?.entry;
  const tail = (1 - confidence) / 2;
  const part = family === "mid-p" ? 0.5 : 0;

  function solve(f: (logOdds: number) => number): number {
    return Math.exp(findRoot(f, -LARGEST_LOG_ODDS, LARGEST_LOG_ODDS));
  }
  const at = (logOdds: number) => tailsAt(entries, a, logOdds);
  const equal = at(0);
  return {
    p: twoSidedP(equal, family),
    pAtLeast: equal.atLeast,
    pAtMost: equal.atMost,
    oddsRatio: atHighest ? null : atLowest ? 0 : solve((w) => at(w).mean - a),
    lower: atLowest ? 0 : solve((w) => at(w).atLeast - part * at(w).exactly - tail),
    upper: atHighest ? null : solve((w) => at(w).atMost - part * at(w).exactly - tail),
  };
}

interface FirstEntry {
  readonly entry: number;
  readonly logProbability: number;
}

/** All first entries the margins allow, with their hypergeometric probabilities as a ratio of binomial ones. */
function firstEntries([a, b]: readonly [number, number], [c, d]: readonly [number, number]): FirstEntry[] {
  const [n1, n2, marked] = [a + b, c + d, a + c];
  const lowest = Math.max(0, marked - n2);
  const highest = Math.min(n1, marked);
  if (n1 === 0 || n2 === 0) return [];
  const p = marked / (n1 + n2);
  return Array.from({ length: highest - lowest + 1 }, (_, i) => {
    const entry = lowest + i;
    const joint = Math.log(binomialDensity(entry, n1, p)) + Math.log(binomialDensity(marked - entry, n2, p));
    return { entry, logProbability: joint - Math.log(binomialDensity(marked, n1 + n2, p)) };
  });
}

function tailsAt(entries: readonly FirstEntry[], a: number, logOdds: number) {
  const logs = entries.map(({ entry, logProbability }) => logProbability + entry * logOdds);
  const largest = Math.max(...logs);
  const tails = { atLeast: 0, atMost: 0, exactly: 0, mean: 0 };
  let total = 0;
  for (const [i, { entry }] of entries.entries()) {
    const weight = Math.exp((logs[i] ?? Number.NEGATIVE_INFINITY) - largest);
    total += weight;
    tails.mean += weight * entry;
    if (entry >= a) tails.atLeast += weight;
    if (entry <= a) tails.atMost += weight;
    if (entry === a) tails.exactly += weight;
  }
  const { atLeast, atMost, exactly, mean } = tails;
  return { atLeast: atLeast / total, atMost: atMost / total, exactly: exactly / total, mean: mean / total };
}
