import { compareStrata } from "@/lib/reliability/compare-strata";
import { type LifeTable, sumPacks } from "@/lib/reliability/life-cell";
import { reportingLag, reportingOf } from "@/lib/reliability/reporting-lag";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";

/**
 * The two revisions that look worst by returns over packs in use, and by the comparison of the manager's page: of those
 * with more failures than expected at equal ages the surest, the reporting lag estimated and allowed for.
 */
export function worstTwo(table: LifeTable, lags: readonly TruncatedLag[]) {
  const { groups } = compareStrata(table, reportingOf(reportingLag(lags)));
  const inUse = (group: string) => sumPacks(table.cells.filter((cell) => cell.group === group));
  const byRatio = groups.toSorted((a, b) => b.observed / inUse(b.group) - a.observed / inUse(a.group));
  const byComparison = groups
    .filter(({ observed, expected }) => observed > expected)
    .toSorted((a, b) => (a.p ?? 1) - (b.p ?? 1));
  const firstTwo = (some: readonly { readonly group: string }[]) => some.slice(0, 2).map(({ group }) => group);
  return { naive: firstTwo(byRatio), equalAge: firstTwo(byComparison) };
}
