import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Whether a row goes on from the one before it: a gap tells nothing of what happened in it. */
export function isJoined({ intervalS }: RowSurvey, row: number): boolean {
  return row > 0 && (intervalS[row] ?? 0) > 0;
}

/** The same, or through one rest: a logger that slept meanwhile ends no rest. */
export function goesOn(survey: RowSurvey, row: number): boolean {
  const { restingS } = survey;
  return isJoined(survey, row) || (row > 0 && (restingS[row] ?? -1) > 0 && (restingS[row - 1] ?? -1) >= 0);
}
