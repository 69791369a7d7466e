import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Share of rows in which a group must read near zero, V its sum may miss the pack voltage by. Engineering defaults. */
const shareOfRows = 0.5;
const sumWithinV = 1;

/**
 * Groups that read below half a volt through most of the log while the pack voltage agrees that they are empty. A missing
 * value or a truncated frame reads zero too, but then the pack voltage is a cell too high.
 */
export function deadGroups(survey: RowSurvey): number[] {
  const { log } = survey;
  const stride = Math.max(1, Math.floor(log.rows / 2000));
  const low = new Array<number>(survey.groups).fill(0);
  let judged = 0;
  for (let row = 0; row < log.rows; row += stride) {
    const pack = log.packVoltageV[row] ?? Number.NaN;
    let sum = 0;
    for (const column of log.cellVoltagesV) sum += column[row] ?? Number.NaN;
    if (!(Math.abs(sum - pack) <= sumWithinV)) continue;
    judged += 1;
    for (const [index, column] of log.cellVoltagesV.entries()) {
      if ((column[row] ?? 1) < survey.gates.cellPlausibleV[0]) low[index] = (low[index] ?? 0) + 1;
    }
  }
  if (judged < 3) return [];
  return low.flatMap((count, index) => (count >= shareOfRows * judged ? [index + 1] : []));
}
