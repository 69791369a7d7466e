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
