import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface TellingRows {
  readonly rows: Int32Array;
  /** Counted charge at each row, Ah, running over the whole log. */
  readonly countedAh: Float64Array;
  /** Variance of the count between a row and the one before, Ah². */
  readonly stepVarianceAh: Float64Array;
  /** Current through a 60 s low pass, A. */
  readonly slowCurrentA: Float64Array;
}

/** Engineering defaults: share of rows spread by charge moved rather than by number; s; share of |ΔI| · Δt unknown. */
const shareByCharge = 0.7;
const slowS = 60;
const betweenSamples = 0.3;
/** Share of rated capacity by which a count wanders in one hour (current offset), and over a break of unknown use. */
const wanderPerRootHour = 0.003;
const unknownUse = 0.3;

/**
 * A few thousand rows that carry what the whole log knows about charge and load: spread evenly over charge moved (so
 * that a week of parking does not drown an hour of riding) and over the row count (so that rests are represented).
 * Rows without current or reference voltage are left out.
 */
export function tellingRows(survey: RowSurvey, wanted: number): TellingRows {
  const { log, intervalS, referenceV, stretch } = survey;
  let movedAs = 0;
  for (let row = 1; row < log.rows; row += 1) movedAs += Math.abs(log.currentA[row] ?? 0) * (intervalS[row] ?? 0) || 0;
  const perAs = movedAs > 0 ? shareByCharge / movedAs : 0;
  const perRow = (movedAs > 0 ? 1 - shareByCharge : 1) / Math.max(1, log.rows);
  const rows: number[] = [];
  const countedAh: number[] = [];
  const stepVarianceAh: number[] = [];
  const slowCurrentA: number[] = [];
  let progress = 0;
  let next = 0;
  let variance = 0;
  let slow = 0;
  let counted = 0;
  // The last current of this stretch and the usable time since: a row without one among others is counted through.
  let before = Number.NaN;
  let sinceS = 0;
  let lastElapsedS = Number.NaN;
  let follows = 0;
  for (let row = 0; row < log.rows; row += 1) {
    const current = log.currentA[row] ?? Number.NaN;
    const seconds = intervalS[row] ?? 0;
    const elapsedS = row === 0 ? 0 : Math.max(0, (log.timeS[row] ?? 0) - (log.timeS[row - 1] ?? 0));
    // Most intervals of a log are alike, and an exponential costs more than all the rest of the row.
    if (elapsedS !== lastElapsedS) follows = 1 - Math.exp(-elapsedS / slowS);
    lastElapsedS = elapsedS;
    const breaks = row > 0 && stretch[row] !== stretch[row - 1];
    sinceS = breaks || seconds === 0 ? 0 : sinceS + seconds;
    if (breaks) before = Number.NaN;
    if (Number.isFinite(current)) {
      slow += (current - slow) * follows;
      if (sinceS > 0 && Number.isFinite(before)) {
        counted += (((current + before) / 2) * sinceS) / 3600;
        variance += ((betweenSamples * Math.abs(current - before) * sinceS) / 3600) ** 2;
      }
      before = current;
      sinceS = 0;
    }
    variance += (wanderPerRootHour * survey.ratedCapacityAh) ** 2 * (Math.min(elapsedS, 86400) / 3600);
    if (breaks) variance += (unknownUse * survey.ratedCapacityAh) ** 2;
    progress += perRow + (Math.abs(current) * seconds * perAs || 0);
    if (progress < next || !Number.isFinite(referenceV[row]) || !Number.isFinite(current)) continue;
    rows.push(row);
    countedAh.push(counted);
    stepVarianceAh.push(variance);
    slowCurrentA.push(slow);
    variance = 0;
    next = progress + 1 / wanted;
  }
  return {
    rows: Int32Array.from(rows),
    countedAh: Float64Array.from(countedAh),
    stepVarianceAh: Float64Array.from(stepVarianceAh),
    slowCurrentA: Float64Array.from(slowCurrentA),
  };
}
