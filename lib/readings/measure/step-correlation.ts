import { createCorrelation } from "@/lib/readings/correlation";
import { steps } from "@/lib/readings/measure/group-resistance";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/**
 * Correlation of the step of the median group with the step of current over the very pairs a resistance is computed
 * from, -1 to 1; `null` for fewer than 10. Another voltage may be given, the sum of the groups for one. The median group keeps the test alive where one group has no reading at all.
 */
export function stepCorrelation(survey: RowSurvey, rows: Int32Array, volts = survey.referenceV): number | null {
  if (rows.length < 10) return null;
  const correlation = createCorrelation();
  const stepsV = steps(rows, volts);
  for (const [place, amp] of steps(rows, survey.log.currentA).entries())
    correlation.add(amp, stepsV[place] ?? Number.NaN);
  const { pairs, r } = correlation.result();
  return pairs < 10 ? null : r;
}
