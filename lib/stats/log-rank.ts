import { chiSquareTail } from "./chi-square-tail";
import type { LifeCount } from "./life-counts";
import { quadraticForm } from "./quadratic-form";
import { type RiskSet, riskSets } from "./risk-sets";

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
 * curves that cross can hide a difference from it. With `rho` above 0 each age weighs as the pooled survival just before
 * it to that power (Peto & Peto's test for 1): early differences count more.
 *
 * "no-comparison" where no failure age has two groups at risk. Groups that never share a failure age with another take
 * no part in the degrees of freedom. Domain: two groups or more, rho >= 0, else a RangeError.
 * Sources: Mantel, Cancer Chemother. Rep. 50 (1966) 163-170; Peto & Peto, J. R. Statist. Soc. A 135 (1972) 185-207;
 * Harrington & Fleming, Biometrika 69 (1982) 553-566; delayed entry: Klein & Moeschberger, Survival Analysis (2003),
 * section 7.3.
 */
export function logRank(groups: readonly (readonly LifeCount[])[], rho = 0): LogRankResult {
  return stratifiedLogRank([groups], rho);
}

/**
 * Answers the same within strata: units are compared only with units of their own stratum (climate, customer,
 * charger), so that a group which happens to live among the harder conditions is not blamed for them. Observed, expected
 * and variance are added over the strata. Lists in each stratum are the same groups in the same order; an empty
 * list is a group that the stratum does not have.
 * Source: Klein & Moeschberger, Survival Analysis (2003), section 7.5.
 */
export function stratifiedLogRank(strata: readonly (readonly (readonly LifeCount[])[])[], rho = 0): LogRankResult {
  const groupCount = strata[0]?.length ?? 0;
  if (groupCount < 2) throw new RangeError("a comparison needs two groups or more");
  if (strata.some((groups) => groups.length !== groupCount))
    throw new RangeError("every stratum must list the same groups");
  return logRankOfRiskSets(
    strata.map((groups) => riskSets(groups)),
    groupCount,
    rho,
  );
}

/**
 * The same from risk sets, of which those at risk may be weighed: each unit with the chance that its failure at this age
 * would be known. Failures known make up such a thinned process, whose partial likelihood weighs units in just this way.
 * Where fewer than the failures seen are at risk by weight, ties are not corrected for.
 */
export function logRankOfRiskSets(strata: readonly Iterable<RiskSet>[], groupCount: number, rho = 0): LogRankResult {
  if (!(rho >= 0)) throw new RangeError(`rho must be 0 or more, got ${rho}`);
  const sums = new LogRankSums(groupCount);
  for (const sets of strata) sums.addStratum(sets, rho);
  const { observed, expected, variance } = sums;
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
    groups: observed.map((o, g) => againstOthers(o, expected[g] ?? 0, variance[g]?.[g] ?? 0)),
  };
}

class LogRankSums {
  readonly observed: number[];
  readonly expected: number[];
  readonly variance: number[][];

  constructor(groups: number) {
    this.observed = Array.from({ length: groups }, () => 0);
    this.expected = [...this.observed];
    this.variance = this.observed.map(() => [...this.expected]);
  }

  addStratum(sets: Iterable<RiskSet>, rho: number): void {
    let pooledSurvival = 1;
    for (const { atRisk, failed } of sets) {
      const totalAtRisk = sum(atRisk);
      if (!(totalAtRisk > 0)) continue;
      const totalFailed = sum(failed);
      this.addAge(atRisk, failed, { totalAtRisk, totalFailed, weight: rho === 0 ? 1 : pooledSurvival ** rho });
      pooledSurvival *= 1 - totalFailed / totalAtRisk;
    }
  }

  private addAge(
    atRisk: readonly number[],
    failed: readonly number[],
    { totalAtRisk, totalFailed, weight }: { totalAtRisk: number; totalFailed: number; weight: number },
  ): void {
    const spread = weight * weight * hypergeometricSpread(totalAtRisk, totalFailed);
    for (const [g, n] of atRisk.entries()) {
      this.observed[g] = (this.observed[g] ?? 0) + weight * (failed[g] ?? 0);
      this.expected[g] = (this.expected[g] ?? 0) + (weight * totalFailed * n) / totalAtRisk;
      const row = this.variance[g] ?? [];
      const share = n / totalAtRisk;
      for (const [h, m] of atRisk.entries()) {
        row[h] = (row[h] ?? 0) + spread * ((g === h ? share : 0) - share * (m / totalAtRisk));
      }
    }
  }
}

function hypergeometricSpread(atRisk: number, failed: number): number {
  if (atRisk >= failed && atRisk > 1) return (failed * (atRisk - failed)) / (atRisk - 1);
  // Below that only weights can lead, or a single unit, whose share of the risk set leaves no variance anyway.
  return failed;
}

function againstOthers(observed: number, expected: number, variance: number): LogRankGroup {
  const pAgainstOthers = variance > 0 ? chiSquareTail((observed - expected) ** 2 / variance, 1) : null;
  return { observed, expected, variance, pAgainstOthers };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
