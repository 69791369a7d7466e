import { spanWithout } from "./risk-sets";

/**
 * One group and all units of its stratum together, at the ages at which anything failed, as columns of equal length. Where units at risk
 * are weighed so are `ownWeight` and `allWeight`, of those that failed; else they are the failures.
 */
export interface TwoSides {
  readonly ages: ArrayLike<number>;
  readonly own: Float64Array;
  readonly all: Float64Array;
  readonly ownFailed: Float64Array;
  readonly allFailed: Float64Array;
  readonly ownWeight: Float64Array;
  readonly allWeight: Float64Array;
}

/** Whether both sides are at risk at an age at which anything failed: only then is the group held against others. */
export function isShared({ own, all, allFailed }: TwoSides, i: number): boolean {
  const its = own[i] ?? 0;
  return its > 0 && (all[i] ?? 0) - its > 0 && (allFailed[i] ?? 0) > 0;
}

/** Failures of the group, and those it would have had, had both sides failed alike, at ages at which both were at risk. */
export function countsOfSides(strata: readonly TwoSides[]): { readonly observed: number; readonly expected: number } {
  let observed = 0;
  let expected = 0;
  for (const sides of strata) {
    const { ages, own, all, ownFailed, allFailed } = sides;
    for (let i = 0; i < ages.length; i++) {
      if (!isShared(sides, i)) continue;
      observed += ownFailed[i] ?? 0;
      expected += ((allFailed[i] ?? 0) * (own[i] ?? 0)) / (all[i] ?? 0);
    }
  }
  return { observed, expected };
}

/**
 * The ages of the group's first and last failure that is held against others, where all its failures between them are; null where it has
 * none such, or one between that is held against nobody.
 */
export function comparedAges(strata: readonly TwoSides[]): { readonly from: number; readonly upTo: number } | null {
  const [shared, alone]: [number[], number[]] = [[], []];
  for (const sides of strata) {
    for (let i = 0; i < sides.ages.length; i++)
      if ((sides.ownFailed[i] ?? 0) > 0) (isShared(sides, i) ? shared : alone).push(sides.ages[i] ?? 0);
  }
  return spanWithout(shared, alone);
}
