import type { RiskSet } from "@/lib/stats/risk-sets";
import { type LifeCell, placeOf } from "./life-cell";
import { type Reporting, reportingAt } from "./reporting";
import { knownAtOnce } from "./reporting-lag";
import { visibleAtRisk } from "./visible-exposure";

/**
 * Per failure age of any group, ages rising: failures known, and packs at risk each counted with the chance that a failure
 * at this age would be known by now. Where all is known at once these are the plain risk sets.
 *
 * @param groups cells of confirmed failures of one stratum, group by group.
 * @param reporting of all groups, or of each in their order.
 */
export function visibleRiskSets(
  groups: readonly (readonly LifeCell[])[],
  reporting: Reporting | readonly Reporting[],
): RiskSet[] {
  const reportings = "shareKnown" in reporting ? groups.map(() => reporting) : reporting;
  const reportingOfGroup = (g: number) => reportings[g] ?? knownAtOnce;
  const failedCells = groups.map((cells) => cells.filter(({ status }) => status === "failed"));
  const ages = [...new Set(Float64Array.from(failedCells.flat(), ({ exitDays }) => exitDays).sort())];
  const position = new Map(ages.map((age, i) => [age, i]));
  const atRisk = groups.map((cells, g) => visibleAtRisk(cells, ages, reportingOfGroup(g)));
  const failed = groups.map(() => new Float64Array(ages.length));
  const failedWeight = groups.map(() => new Float64Array(ages.length));
  for (const [g, cells] of failedCells.entries()) {
    for (const cell of cells) {
      const { exitDays, slackDays, packs } = cell;
      const { shareKnown, longestLagDays } = reportingAt(reportingOfGroup(g), placeOf(cell));
      const i = position.get(exitDays) ?? -1;
      addAt(failed[g], i, packs);
      addAt(failedWeight[g], i, packs * (slackDays >= longestLagDays ? 1 : shareKnown(slackDays)));
    }
  }
  const at = (columns: readonly Float64Array[], i: number) => columns.map((column) => column[i] ?? 0);
  return ages.map((age, i) => ({
    age,
    atRisk: at(atRisk, i),
    failed: at(failed, i),
    failedWeight: at(failedWeight, i),
  }));
}

function addAt(column: Float64Array | undefined, i: number, packs: number): void {
  if (column !== undefined) column[i] = (column[i] ?? 0) + packs;
}
