import type { FailureCurvePoint } from "@/lib/reliability/failure-curve";

export type CurveCorner = Pick<FailureCurvePoint, "ageDays" | "probability" | "lower" | "upper">;

/** A stretch of one curve in one shade, as corners to be joined by steps. */
export interface StepRun {
  readonly grey: boolean;
  readonly corners: readonly CurveCorner[];
}

/**
 * Cuts a curve where it turns grey or back. Each run reaches to the start of the next one, and begins at the height of
 * the one before, so that no jump between two shades is lost.
 */
export function stepRuns(points: readonly FailureCurvePoint[]): StepRun[] {
  const runs: StepRun[] = [];
  let corners: FailureCurvePoint[] = [];
  for (const [i, point] of points.entries()) {
    const before = points[i - 1];
    if (before !== undefined && before.grey !== point.grey) {
      runs.push({ grey: before.grey, corners: [...corners, { ...before, ageDays: point.ageDays }] });
      corners = [{ ...before, ageDays: point.ageDays }];
    }
    corners.push(point);
  }
  const last = points.at(-1);
  if (last !== undefined && corners.length > 1) runs.push({ grey: last.grey, corners });
  return runs;
}
