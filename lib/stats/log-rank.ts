import { chiSquareTail } from "./chi-square-tail";
import type { LifeCount } from "./life-counts";
import { quadraticForm } from "./quadratic-form";

export interface LogRank {
  readonly kind: "test";
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly p: number;
  /** In the order of the groups given. */
  readonly observed: readonly number[];
  readonly expected: readonly number[];
}

export type LogRankResult = LogRank | { readonly kind: "no-comparison" };

/**
 * Answers: do the groups fail alike at equal ages?
 *
 * At each failure age the failures expected of each group are its share of those at risk; the differences observed
 * minus expected are weighed by their hypergeometric variance into a chi-square with (groups - 1) degrees of freedom.
 * Late entries count from their entry on only. Best where one group's hazard is a constant multiple of the other's;
 * curves that cross can hide a difference from it.
 *
 * "no-comparison" where no failure age has two groups at risk. Groups that never share a failure age with another take
 * no part in the degrees of freedom. Domain: two groups or more, else a RangeError.
 * Sources: Mantel, Cancer Chemother. Rep. 50 (1966) 163-170; Peto & Peto, J. R. Statist. Soc. A 135 (1972) 185-207;
 * delayed entry: Klein & Moeschberger, Survival Analysis (2003), section 7.3.
 */
export function logRank(groups: readonly (readonly LifeCount[])[]): LogRankResult {
  if (groups.length < 2) throw new RangeError("a comparison needs two groups or more");
  const observed = groups.map(() => 0);
  const expected = groups.map(() => 0);
  const variance = groups.map(() => groups.map(() => 0));

  for (const { atRisk, failed } of riskSets(groups)) {
    const totalAtRisk = sum(atRisk);
    const totalFailed = sum(failed);
    // With a single unit left at risk there is nothing to compare it with: its variance is 0.
    const spread = totalAtRisk > 1 ? (totalFailed * (totalAtRisk - totalFailed)) / (totalAtRisk - 1) : 0;
    for (const [g, n] of atRisk.entries()) {
      observed[g] = (observed[g] ?? 0) + (failed[g] ?? 0);
      expected[g] = (expected[g] ?? 0) + (totalFailed * n) / totalAtRisk;
      const row = variance[g] ?? [];
      for (const [h, m] of atRisk.entries()) {
        const share = n / totalAtRisk;
        row[h] = (row[h] ?? 0) + spread * ((g === h ? share : 0) - share * (m / totalAtRisk));
      }
    }
  }

  // The differences sum to 0 over all groups, so the last one adds nothing; leaving it out makes the matrix regular.
  const differences = observed.slice(0, -1).map((o, g) => o - (expected[g] ?? 0));
  const { value, rank } = quadraticForm(
    variance.slice(0, -1).map((row) => row.slice(0, -1)),
    differences,
  );
  if (rank === 0) return { kind: "no-comparison" };
  return { kind: "test", chiSquare: value, degreesOfFreedom: rank, p: chiSquareTail(value, rank), observed, expected };
}

/** Per failure age of any group: who is at risk at it and who fails, group by group. */
function* riskSets(groups: readonly (readonly LifeCount[])[]): Generator<{ atRisk: number[]; failed: number[] }> {
  const byAge = new Map<number, { group: number; count: LifeCount }[]>();
  for (const [group, counts] of groups.entries()) {
    for (const count of counts) {
      const atAge = byAge.get(count.age);
      if (atAge === undefined) byAge.set(count.age, [{ group, count }]);
      else atAge.push({ group, count });
    }
  }
  const atRisk = groups.map(() => 0);
  for (const age of Float64Array.from(byAge.keys()).sort()) {
    const failed = groups.map(() => 0);
    for (const { group, count } of byAge.get(age) ?? []) failed[group] = count.failed;
    if (failed.some((f) => f > 0)) yield { atRisk: [...atRisk], failed };
    for (const { group, count } of byAge.get(age) ?? []) {
      atRisk[group] = (atRisk[group] ?? 0) + count.entered - count.failed - count.censored;
    }
  }
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
