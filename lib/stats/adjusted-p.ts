/**
 * p-values adjusted for the number of tests so that the chance of even one false call stays at the level: for a family
 * in which a single false accusation is already too much. `benjaminiHochberg` bounds the share of false calls instead.
 * All return the order given; domain: each p in 0 to 1, else a RangeError; an empty family gives an empty list.
 */

/**
 * Step-down, valid whatever the dependence of the tests. Adjusted p of the i-th smallest of m: largest over j <= i of
 * (m - j + 1) p_j, capped at 1. Source: Holm, Scand. J. Statist. 6 (1979) 65-70.
 */
export function holm(pValues: readonly number[]): number[] {
  return stepDown(pValues, (p, rank, m) => (m - rank + 1) * p);
}

/**
 * Step-up with the factors of Holm, a little sharper; valid for independent tests and the usual positive dependence.
 * Source: Hochberg, Biometrika 75 (1988) 800-802.
 */
export function hochberg(pValues: readonly number[]): number[] {
  return stepUp(pValues, (p, rank, m) => (m - rank + 1) * p);
}

/**
 * The false discovery rate under any dependence, by the factor 1 + 1/2 + ... + 1/m.
 * Source: Benjamini & Yekutieli, Ann. Statist. 29 (2001) 1165-1188.
 */
export function benjaminiYekutieli(pValues: readonly number[]): number[] {
  const harmonic = pValues.reduce((sum, _, i) => sum + 1 / (i + 1), 0);
  return stepUp(pValues, (p, rank, m) => (harmonic * m * p) / rank);
}

/** Each p times the number of tests. Source: Bonferroni (1936), as in Holm (1979). */
export function bonferroni(pValues: readonly number[]): number[] {
  return stepDown(pValues, (p, _, m) => m * p);
}

type Factor = (p: number, rank: number, m: number) => number;

function ascending(pValues: readonly number[]) {
  for (const p of pValues) if (!(p >= 0 && p <= 1)) throw new RangeError(`a p-value must lie in 0 to 1, got ${p}`);
  return pValues.map((p, position) => ({ p, position })).sort((a, b) => a.p - b.p);
}

function stepDown(pValues: readonly number[], factor: Factor): number[] {
  const adjusted = pValues.map(() => 1);
  let largest = 0;
  for (const [i, { p, position }] of ascending(pValues).entries()) {
    largest = Math.min(1, Math.max(largest, factor(p, i + 1, pValues.length)));
    adjusted[position] = largest;
  }
  return adjusted;
}

function stepUp(pValues: readonly number[], factor: Factor): number[] {
  const adjusted = pValues.map(() => 1);
  let smallest = 1;
  for (const [i, { p, position }] of [...ascending(pValues).entries()].reverse()) {
    smallest = Math.min(smallest, factor(p, i + 1, pValues.length));
    adjusted[position] = smallest;
  }
  return adjusted;
}
