import { firstAbove } from "@/lib/stats/first-above";
import { type LifeCell, placeOf } from "./life-cell";
import { type Reporting, reportingAt } from "./reporting";

/** Of several groups the packs at risk, the failures known and their weights, each a column over the same ages. */
export interface VisibleColumns {
  /** At which anything failed, rising. */
  readonly ages: Float64Array;
  readonly atRisk: readonly Float64Array[];
  readonly failed: readonly Float64Array[];
  readonly failedWeight: readonly Float64Array[];
}

/**
 * Per failure age of any group, ages rising: failures known, and packs at risk each counted with the chance that a failure
 * at this age would be known by now (`visibleAtRisk`). Where all is known at once these are the plain risk sets.
 *
 * @param groups cells of confirmed failures of one stratum, group by group. @param reportings of each in their order.
 */
export function visibleColumns(
  groups: readonly (readonly LifeCell[])[],
  reportings: readonly Reporting[],
): VisibleColumns {
  const exits: number[] = [];
  for (const cells of groups) for (const { status, exitDays } of cells) if (status === "failed") exits.push(exitDays);
  const ages = Float64Array.from(new Set(Float64Array.from(exits).sort()));
  const counted = groups.map((cells, g) => countVisible(cells, ages, reportings[g]));
  return {
    ages,
    atRisk: counted.map(({ atRisk }) => atRisk),
    failed: counted.map(({ failed }) => failed),
    failedWeight: counted.map(({ failedWeight }) => failedWeight),
  };
}

/** One pass over the cells of a group; of a group that a stratum has not, nothing. */
function countVisible(cells: readonly LifeCell[], ages: Float64Array, reporting: Reporting | undefined) {
  const atRisk = new Float64Array(ages.length);
  const failed = new Float64Array(ages.length);
  const failedWeight = new Float64Array(ages.length);
  if (cells.length === 0 || reporting === undefined) return { atRisk, failed, failedWeight };
  const change = new Float64Array(ages.length + 1);
  const hidden = new Float64Array(ages.length);
  let place: string | null = null;
  let { shareKnown, longestLagDays } = reporting;
  let missing = missingByDay(reporting);
  for (const cell of cells) {
    const { entryDays, exitDays, slackDays, status, packs } = cell;
    if (placeOf(cell) !== place) {
      place = placeOf(cell);
      const itsOwn = reportingAt(reporting, place);
      ({ shareKnown, longestLagDays } = itsOwn);
      missing = missingByDay(itsOwn);
    }
    // At risk in (entry, exit].
    const first = firstAbove(ages, entryDays);
    const after = firstAbove(ages, exitDays);
    change[first] = (change[first] ?? 0) + packs;
    change[after] = (change[after] ?? 0) - packs;
    for (let i = after - 1; i >= first; i--) {
      const lag = slackDays + exitDays - (ages[i] ?? 0);
      if (lag >= longestLagDays) break;
      hidden[i] = (hidden[i] ?? 0) + packs * (missing[lag] ?? 1 - shareKnown(lag));
    }
    if (status !== "failed") continue;
    failed[after - 1] = (failed[after - 1] ?? 0) + packs;
    const known = slackDays >= longestLagDays ? 1 : shareKnown(slackDays);
    failedWeight[after - 1] = (failedWeight[after - 1] ?? 0) + packs * known;
  }
  let running = 0;
  for (let i = 0; i < ages.length; i++) {
    running += change[i] ?? 0;
    atRisk[i] = running - (hidden[i] ?? 0);
  }
  return { atRisk, failed, failedWeight };
}

const missingOf = new WeakMap<Reporting, Float64Array>();

/** Share not known after so many whole days, up to the longest lag; worked out once, since it is asked for thousands of packs on ninety days each. */
function missingByDay(reporting: Reporting): Float64Array {
  const known = missingOf.get(reporting);
  if (known !== undefined) return known;
  const { shareKnown, longestLagDays } = reporting;
  const missing = Float64Array.from({ length: Math.ceil(longestLagDays) }, (_, lag) => 1 - shareKnown(lag));
  missingOf.set(reporting, missing);
  return missing;
}
