import { exactAgainstOthers } from "@/lib/stats/exact-against-others";
import { countsAtSharedAges } from "@/lib/stats/risk-sets";
import { cutBack } from "./hidden-exposure";
import { type LifeCell, type LifeTable, MOST_SLACK_DAYS } from "./life-cell";
import { belongsTo } from "./mixed-lots";
import { knownAtOnce } from "./reporting-lag";
import { visibleRiskSets } from "./visible-risk-sets";

/** A difference that was called: the group, where it is compared, and whether it fails more. */
interface Called {
  readonly group: string;
  readonly strata: readonly string[];
  readonly isMore: boolean;
}

/**
 * Answers, of a difference that is called: how likely would it be by chance in the case that speaks most against it, whatever the
 * delays of the two sides are?
 *
 * A ratio is corrected by a delay that was learnt from other times, and partly from other dealers. Where the bench became
 * faster or slower, or a young group is confirmed at another speed than its likes, it is wrong in either direction. So here the
 * side that is to fail more has all of its failures known already, and of the other side counts only what was told so long ago
 * (`MOST_SLACK_DAYS`) that no delay that is waited for can hide any of it. The first side's rate can only be too low then, and
 * the other's is right, as long as no delay is longer.
 *
 * @returns exact mid-p; 1 where the difference turns round then, or nothing can be compared any more.
 */
export function pWhateverDelay(table: LifeTable, { group, strata, isMore }: Called): number {
  const sets = strata.map((stratum) => {
    const its: LifeCell[] = [];
    const others: LifeCell[] = [];
    for (const cell of table.cells) {
      if (cell.line === "confirmed" && cell.stratum === stratum)
        (belongsTo(table, cell.group, group) ? its : others).push(cell);
    }
    const settled = (cells: readonly LifeCell[]) => cutBack(cells, MOST_SLACK_DAYS);
    return visibleRiskSets(isMore ? [its, settled(others)] : [settled(its), others], knownAtOnce);
  });
  const counts = countsAtSharedAges(sets, 2)[0];
  if (counts === undefined || counts.observed > counts.expected !== isMore) return 1;
  return exactAgainstOthers(sets, 2)[0] ?? 1;
}
