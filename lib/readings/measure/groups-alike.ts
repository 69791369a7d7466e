import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Groups and rows below which nothing can be said; rows looked at. Engineering defaults. */
const leastGroups = 3;
const leastRows = 60;
const rowsLookedAt = 2000;
/** V the middle group must have moved: groups at rest on one coarse step may well read alike. Engineering default. */
const movedV = 0.02;

/** Whether all groups read the same to the last digit in every row, although they move: no two cells do. O(groups) for the rows looked at. */
export function groupsAllAlike({ log, groups, referenceV }: RowSurvey): boolean {
  if (groups < leastGroups) return false;
  const [first, ...others] = log.cellVoltagesV;
  const stride = Math.max(1, Math.floor(log.rows / rowsLookedAt));
  let seen = 0;
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (let row = 0; row < log.rows; row += stride) {
    const volt = first?.[row] ?? Number.NaN;
    if (!Number.isFinite(volt) || !Number.isFinite(referenceV[row])) continue;
    if (others.some((column) => column[row] !== volt)) return false;
    seen += 1;
    lowest = Math.min(lowest, volt);
    highest = Math.max(highest, volt);
  }
  return seen >= leastRows && highest - lowest >= movedV;
}
