import { countQuantile } from "@/lib/stats/binomial-mixture";

/** Counts less likely than this are cut off at both ends of a distribution. */
const NEGLIGIBLE = 1e-12;

/** A number of failures: probabilities from one number on. */
export interface Counts {
  /** Number of failures that the first share stands for. */
  readonly from: number;
  readonly shares: Float64Array;
}

/** Distribution of the sum of independent numbers. */
export function foldCounts(distributions: readonly Float64Array[]): Counts {
  return distributions.map(trimmed).reduce(folded, { from: 0, shares: Float64Array.of(1) });
}

/** 95 % limits of a number. */
export function totalLimits({ from, shares }: Counts): { readonly lower: number; readonly upper: number } {
  return { lower: from + countQuantile(shares, 0.025), upper: from + countQuantile(shares, 0.975) };
}

function trimmed(distribution: Float64Array): Counts {
  const first = distribution.findIndex((share) => share > NEGLIGIBLE);
  const last = distribution.findLastIndex((share) => share > NEGLIGIBLE);
  return { from: Math.max(0, first), shares: distribution.slice(Math.max(0, first), last + 1) };
}

function folded(a: Counts, b: Counts): Counts {
  const shares = new Float64Array(a.shares.length + b.shares.length - 1);
  for (const [i, share] of a.shares.entries()) {
    for (const [j, other] of b.shares.entries()) shares[i + j] = (shares[i + j] ?? 0) + share * other;
  }
  return { from: a.from + b.from, shares };
}
