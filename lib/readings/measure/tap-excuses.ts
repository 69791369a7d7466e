import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import type { TapRow } from "@/lib/readings/measure/tap-row";

/** Share the error must have fallen to, within a few rows or a minute; a large error is given half an hour. Engineering defaults. */
const goneShare = 0.5;
const jumpRows = 3;
const jumpS = 60;
const largeErrorV = 0.15;
const largeJumpS = 1800;

/** Load that jumps while the groups are sampled one after the other mimics a tap error of up to R · ΔI. */
export function isSkewed(survey: RowSurvey, row: number, errorV: number, skewOhm: number): boolean {
  const { currentA } = survey.log;
  const now = currentA[row] ?? Number.NaN;
  const change = Math.max(Math.abs(now - (currentA[row - 1] ?? now)), Math.abs((currentA[row + 1] ?? now) - now));
  return change * skewOhm > 0.5 * errorV;
}

/** A group bled by its balancer, or beside one, reads off by the lead's resistance: no open tap. */
export function isBalanced(mask: Float64Array | null, row: number, groups: readonly number[]): boolean {
  const bits = mask?.[row] ?? 0;
  if (!(bits > 0)) return false;
  const near = groups.flatMap((group) => [group - 1, group, group + 1]);
  return near.some((group) => group >= 1 && Math.floor(bits / 2 ** (group - 1)) % 2 === 1);
}

/**
 * Whether the error is much smaller in some row nearby: a contact comes and goes from row to row, while charge offsets
 * change over a ride as the curve bends. Rows are tried at growing distance on both sides.
 */
export function comesAndGoes(
  survey: RowSurvey,
  offAt: (index: number, row: number) => number,
  row: number,
  found: TapRow,
): boolean {
  const { timeS, rows } = survey.log;
  const first = (found.groups[0] ?? 1) - 1;
  const error = (at: number) =>
    found.groups.length === 1 ? Math.abs(offAt(first, at)) : Math.abs(offAt(first, at) - offAt(first + 1, at)) / 2;
  const here = error(row);
  const withinS = here >= largeErrorV ? largeJumpS : jumpS;
  for (let distance = 1; distance < rows; distance = Math.ceil(distance * 1.3)) {
    let inside = false;
    for (const at of [row - distance, row + distance]) {
      if (at < 0 || at >= rows) continue;
      if (distance > jumpRows && Math.abs((timeS[at] ?? 0) - (timeS[row] ?? 0)) > withinS) continue;
      inside = true;
      if (error(at) <= goneShare * here) return true;
    }
    if (!inside) return false;
  }
  return false;
}
