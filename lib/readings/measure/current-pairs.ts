import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Pairs kept for a regression: beyond these the standard error no longer matters, the time does. Engineering default. */
const pairsKept = 20_000;

/**
 * Rows whose current differs from the row before by at least `leastChangeA` within one usable interval of at most
 * `longestS`: the load steps a first-difference regression lives on. Thinned evenly when very many.
 */
export function currentPairs(survey: RowSurvey, leastChangeA: number, longestS: number): Int32Array {
  const { currentA } = survey.log;
  const rows: number[] = [];
  for (let row = 1; row < survey.log.rows; row += 1) {
    const seconds = survey.intervalS[row] ?? 0;
    if (seconds <= 0 || seconds > longestS) continue;
    if (!(Math.abs((currentA[row] ?? 0) - (currentA[row - 1] ?? 0)) >= leastChangeA)) continue;
    if (Number.isNaN(survey.referenceV[row]) || Number.isNaN(survey.referenceV[row - 1])) continue;
    rows.push(row);
  }
  const stride = Math.max(1, Math.ceil(rows.length / pairsKept));
  return Int32Array.from(rows.filter((_, place) => place % stride === 0));
}
