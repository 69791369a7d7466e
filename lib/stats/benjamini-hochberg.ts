/**
 * Adjusts p-values of a family of tests so that, calling those below q, the expected share of false calls is at most q.
 *
 * Step-up: adjusted p of the i-th smallest of m = smallest over j >= i of m * p_j / j, capped at 1. Returned in the
 * order given. Holds for independent tests and for the usual positive dependence. The family must be fixed in advance.
 * Domain: each p in 0 to 1, else a RangeError. An empty family gives an empty list.
 * Source: Benjamini & Hochberg, J. R. Statist. Soc. B 57 (1995) 289-300.
 */
export function benjaminiHochberg(pValues: readonly number[]): number[] {
  const ascending = pValues.map((p, position) => ({ p, position })).sort((a, b) => a.p - b.p);
  const adjusted = pValues.map(() => 1);
  let smallest = 1;
  for (const [i, { p, position }] of [...ascending.entries()].reverse()) {
    if (!(p >= 0 && p <= 1)) throw new RangeError(`a p-value must lie between 0 and 1, got ${p}`);
    smallest = Math.min(smallest, (pValues.length * p) / (i + 1));
    adjusted[position] = smallest;
  }
  return adjusted;
}
