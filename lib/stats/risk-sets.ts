import type { LifeCount } from "./life-counts";

export interface RiskSet {
  readonly age: number;
  /** Units at risk at this age, group by group. */
  readonly atRisk: readonly number[];
  /** Failures at this age, group by group. */
  readonly failed: readonly number[];
  /** Where units at risk are weighed: the weights of those that failed, group by group. Else each weighs 1. */
  readonly failedWeight?: readonly number[];
}

/** Per failure age of any group, ages rising: who is at risk at it and who fails, group by group. */
export function* riskSets(groups: readonly (readonly LifeCount[])[]): Generator<RiskSet> {
  const failureAges = groups.flatMap((counts) => counts.filter(({ failed }) => failed > 0).map(({ age }) => age));
  const positions = groups.map(() => 0);
  const atRisk = groups.map(() => 0);
  for (const age of new Set(Float64Array.from(failureAges).sort())) {
    const failed = groups.map((counts, g) => {
      let position = positions[g] ?? 0;
      for (let count = counts[position]; count !== undefined && count.age < age; count = counts[++position]) {
        atRisk[g] = (atRisk[g] ?? 0) + count.entered - count.failed - count.censored;
      }
      positions[g] = position;
      const atAge = counts[position];
      return atAge?.age === age ? atAge.failed : 0;
    });
    yield { age, atRisk: [...atRisk], failed };
  }
}

/**
 * Of each group its failures, and those it would have had, had all failed alike, at the ages at which others were at risk too.
 * At all other ages it is held against nobody: what it had there is what was to be expected, and says nothing.
 */
export function countsAtSharedAges(
  strata: readonly Iterable<RiskSet>[],
  groupCount: number,
): { readonly observed: number; readonly expected: number }[] {
  const counts = Array.from({ length: groupCount }, () => ({ observed: 0, expected: 0 }));
  for (const sets of strata) {
    for (const { atRisk, failed } of sets) {
      const [all, ties] = [sum(atRisk), sum(failed)];
      for (const [g, count] of counts.entries()) {
        const own = atRisk[g] ?? 0;
        if (!(own > 0 && all - own > 0)) continue;
        count.observed += failed[g] ?? 0;
        count.expected += (ties * own) / all;
      }
    }
  }
  return counts;
}

/** The first and last of the wanted, where none of the others lies among them; null where there is no wanted one either. */
export function spanWithout(
  wanted: readonly number[],
  others: readonly number[],
): { readonly from: number; readonly upTo: number } | null {
  const [from, upTo] = [Math.min(...wanted), Math.max(...wanted)];
  return wanted.length === 0 || others.some((one) => one >= from && one <= upTo) ? null : { from, upTo };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
