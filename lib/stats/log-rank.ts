import { chiSquareTail } from "./chi-square-tail";
import type { LifeCount } from "./life-counts";
import { quadraticForm } from "./quadratic-form";

export interface LogRank {
  readonly kind: "test";
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly p: number;
  /** In the order of the groups given. */
  readonly groups: readonly LogRankGroup[];
}

export interface LogRankGroup {
  readonly observed: number;
  /** Failures the group would have had, had all failed alike at equal ages. */
  readonly expected: number;
  readonly variance: number;
  /**
   * Of this group against all others taken together: (observed - expected)^2 / variance on 1 degree of freedom, which
   * is the two-group log-rank test of that split. Null where the group shares no failure age with another.
   */
  readonly pAgainstOthers: number | null;
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
  return {
    kind: "test",
    chiSquare: value,
    degreesOfFreedom: rank,
    p: chiSquareTail(value, rank),
    groups: groups.map((_, g) => againstOthers(observed[g] ?? 0, expected[g] ?? 0, variance[g]?.[g] ?? 0)),
  };
}

function againstOthers(observed: number, expected: number, variance: number): LogRankGroup {
  const pAgainstOthers = variance > 0 ? chiSquareTail((observed - expected) ** 2 / variance, 1) : null;
  return { observed, expected, variance, pAgainstOthers };
}

/** Per failure age of any group, ages rising: who is at risk at it and who fails, group by group. */
function* riskSets(groups: readonly (readonly LifeCount[])[]): Generator<{ atRisk: number[]; failed: number[] }> {
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
    yield { atRisk: [...atRisk], failed };
  }
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
