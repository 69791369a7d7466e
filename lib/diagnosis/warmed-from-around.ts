import type { Evidence } from "@/lib/diagnosis/evidence";
import { soundProbes } from "@/lib/diagnosis/heat-spread";

/** K by which the warmest probe may fall in an hour and the place still be what keeps it warm. Engineering default. */
const keptWithinK = 3;

/**
 * s of heat that the place explains where the pack stood: at rest, all of two sound probes and more alike, and either
 * begun when heat of a load had long spread, or kept for an hour without cooling. What a cell makes by itself lies in one
 * place, and what a ride leaves behind cools.
 */
export function warmedFromAroundS(evidence: Evidence): number {
  const { survey, settings } = evidence;
  const probes = soundProbes(evidence);
  if (probes.length < 2) return 0;
  const { evenedOutS, gradientRestK } = settings.verdict;
  const { timeS, segment, rows } = survey.log;
  const warmthOf = (row: number, which: typeof Math.max) =>
    which(...probes.map(({ valuesC }) => valuesC[row] ?? Number.NaN));
  let explainedS = 0;
  let start = -1;
  let keptC: number | null = null;
  const close = (lastRow: number) => {
    if (start < 0) return;
    const cold = (survey.restingS[start] ?? -1) >= settings.acute.heatSpreadS;
    const kept = keptC !== null && keptC >= warmthOf(start, Math.max) - keptWithinK;
    if (cold || kept) explainedS += (timeS[lastRow] ?? 0) - (timeS[start] ?? 0);
    start = -1;
    keptC = null;
  };
  for (let row = 0; row < rows; row += 1) {
    const warmest = warmthOf(row, Math.max);
    if (Number.isNaN(warmest)) continue;
    const fits =
      warmest > settings.abuse.hotC &&
      warmest < settings.acute.hotC &&
      warmest - warmthOf(row, Math.min) <= gradientRestK &&
      (survey.restingS[row] ?? -1) >= 0;
    if (!fits || (start >= 0 && segment[row] !== segment[start])) close(row - 1);
    if (!fits) continue;
    if (start < 0) start = row;
    if (keptC === null && (timeS[row] ?? 0) - (timeS[start] ?? 0) >= evenedOutS) keptC = warmest;
  }
  close(rows - 1);
  return explainedS;
}
