import { firstAbove } from "@/lib/stats/first-above";
import { cellsByPlace, type LifeCell } from "./life-cell";
import type { Reporting } from "./reporting";

/**
 * Packs at risk at each of the given ages (rising), each counted with the chance that a failure at that age would be known
 * today: an age reached yesterday has hardly been reported on yet, and counting it in full would make young packs look
 * good.
 *
 * @param reporting share of failures known so many days after they were told, rising to 1 at a lag of at most the cells'
 * `MOST_SLACK_DAYS`; where places have delays of their own, each pack by that of its place.
 * Days with us shift the link between age and calendar by their number; they are ignored here, being few.
 */
export function visibleAtRisk(
  cells: readonly LifeCell[],
  agesDays: readonly number[],
  reporting: Reporting,
): Float64Array {
  const { ofPlace } = reporting;
  if (ofPlace === undefined) return visibleByOneDelay(cells, agesDays, reporting);
  const sum = new Float64Array(agesDays.length);
  for (const [place, own] of cellsByPlace(cells)) {
    for (const [i, atRisk] of visibleByOneDelay(own, agesDays, ofPlace(place)).entries())
      sum[i] = (sum[i] ?? 0) + atRisk;
  }
  return sum;
}

function visibleByOneDelay(
  cells: readonly LifeCell[],
  agesDays: readonly number[],
  { shareKnown, longestLagDays }: Reporting,
): Float64Array {
  const change = new Float64Array(agesDays.length + 1);
  const hidden = new Float64Array(agesDays.length);
  for (const { entryDays, exitDays, slackDays, packs } of cells) {
    // At risk in (entry, exit].
    const first = firstAbove(agesDays, entryDays);
    const after = firstAbove(agesDays, exitDays);
    change[first] = (change[first] ?? 0) + packs;
    change[after] = (change[after] ?? 0) - packs;
    const unclearFrom = Math.max(first, firstAbove(agesDays, exitDays + slackDays - longestLagDays));
    for (let i = unclearFrom; i < after; i++) {
      const lag = slackDays + exitDays - (agesDays[i] ?? 0);
      hidden[i] = (hidden[i] ?? 0) + packs * (1 - shareKnown(lag));
    }
  }
  let atRisk = 0;
  return hidden.map((missing, i) => {
    atRisk += change[i] ?? 0;
    return atRisk - missing;
  });
}
