import { median, scaledMad } from "@/lib/readings/measure/median";
import { columnResolution } from "@/lib/readings/measure/resolution";
import { type RestPeriod, restPeriods } from "@/lib/readings/measure/rest-periods";
import { noiseBeforeRounding, roundingLeft } from "@/lib/readings/measure/rounding-left";
import type { RowSurvey, StandingDraw } from "@/lib/readings/measure/row-survey";
import { theilSenSlope } from "@/lib/readings/measure/theil-sen";

export interface RestDrift {
  /** Per group against the median group, mV per day, over all rests long enough. */
  readonly millivoltPerDay: Float64Array;
  readonly errorMillivoltPerDay: Float64Array;
  /** Same over the first and second half of each rest alone, for whether it accelerates: rests at other charge do not compare. */
  readonly halves: readonly RestHalves[];
  /** Deviation from the median group at the end, mV. */
  readonly endMillivolt: Float64Array;
  /** Days counted, without the relaxation before. */
  readonly days: number;
  readonly rests: number;
  /** Median group at the end, V. */
  readonly referenceV: number;
  readonly scaledMad: number;
  /** K by which the pack's warmth moved over the rows counted; null where none was logged. */
  readonly warmthMovedK: number | null;
  /** Each rest by itself: one leak is other millivolts at other charge. */
  readonly each: readonly DriftOfOneRest[];
}

export type DriftOfOneRest = Pick<RestDrift, "endMillivolt" | "days" | "referenceV">;

export interface RestHalves {
  readonly firstHalf: Float64Array;
  readonly secondHalf: Float64Array;
}

/** Points a rest is thinned to before the robust slope; enough for hourly points over six days. */
const points = 150;

/**
 * Drift of every group against the median group while the pack rests: what a leak inside a cell looks like.
 *
 * Only rows after `waitS` of rest count (relaxation looks like a leak of hundreds of mV per day), rests must then last
 * `windowS` more; slopes are Theil-Sen, several rests are averaged by their length. Rows in which a balancer draws are left
 * out, and for an hour after: a bled group falls as a leaking one does; so are rests through which a current flowed, under which a
 * smaller group falls faster. `null` where no rest is that long.
 */
export function restDrift(
  survey: RowSurvey,
  waitS = survey.gates.restForDriftS,
  windowS = survey.gates.driftWindowS,
): RestDrift | null {
  return driftOverAll(driftOfRests(survey, waitS, windowS));
}

/** The same of each rest alone: rests at different charge read one leak as different millivolts, and a flat one hides it. */
export function driftOfRests(survey: RowSurvey, waitS: number, windowS: number): RestDrift[] {
  const rests = restPeriods(survey, waitS + windowS).filter(
    ({ endRow }) => !survey.standingDraws.some((draw) => draw.endRow === endRow),
  );
  return driftsOf(survey, rests, waitS, windowS);
}

/** A rest through which a current flowed, and how the groups moved apart meanwhile. */
export interface DrawnDrift {
  readonly draw: StandingDraw;
  readonly drift: RestDrift;
}

/** The same of the rests left out above: what is more than a common current does to groups of unlike size is to be told there. */
export function driftUnderDraws(survey: RowSurvey, waitS: number, windowS: number): DrawnDrift[] {
  const rests = restPeriods(survey, waitS + windowS);
  return survey.standingDraws.flatMap((draw) =>
    driftsOf(
      survey,
      rests.filter(({ endRow }) => endRow === draw.endRow),
      waitS,
      windowS,
    ).map((drift) => ({ draw, drift })),
  );
}

function driftsOf(survey: RowSurvey, rests: readonly RestPeriod[], waitS: number, windowS: number): RestDrift[] {
  if (rests.length === 0) return [];
  const stepV = steps(survey);
  return rests.flatMap((rest): RestDrift[] => {
    const rows = rowsAfterWait(survey, rest.startRow, rest.endRow, waitS);
    const days = ((survey.log.timeS[rows.at(-1) ?? 0] ?? 0) - (survey.log.timeS[rows[0] ?? 0] ?? 0)) / 86400;
    // What balancing leaves of a rest must still be long enough.
    if (rows.length < 6 || days * 86400 < balancedLeaves * windowS) return [];
    const near = rows.map((row, place) => rowsUpTo(survey, row, rows[place + 1] ?? rest.endRow + 1));
    const points = survey.log.cellVoltagesV.map((column) => near.map((some) => meanOf(survey, column, some)));
    const roundedMillivolt = roundings(points, stepV);
    const at = near.map((some, place) => middleS(survey, some, rows[place] ?? 0) / 86400);
    const half = rows.length >> 1;
    const columns = points.map((means, index) => {
      const off = means.map(({ offV }) => 1000 * offV);
      const slope = theilSenSlope(at, off) ?? Number.NaN;
      return {
        slope,
        error: slopeError(off, slope, at, days, roundedMillivolt[index] ?? Number.NaN),
        first: theilSenSlope(at.slice(0, half), off.slice(0, half)) ?? Number.NaN,
        second: theilSenSlope(at.slice(half), off.slice(half)) ?? Number.NaN,
        end: median(off.slice(-10)) ?? Number.NaN,
      };
    });
    const millivoltPerDay = Float64Array.from(columns, ({ slope }) => slope);
    const endMillivolt = Float64Array.from(columns, ({ end }) => end);
    return [
      {
        millivoltPerDay,
        errorMillivoltPerDay: Float64Array.from(columns, ({ error }) => error),
        halves: [
          {
            firstHalf: Float64Array.from(columns, ({ first }) => first),
            secondHalf: Float64Array.from(columns, ({ second }) => second),
          },
        ],
        endMillivolt,
        days,
        rests: 1,
        referenceV: rest.referenceV,
        each: [{ endMillivolt, days, referenceV: rest.referenceV }],
        scaledMad: scaledMad(millivoltPerDay) ?? 0,
        warmthMovedK: warmthMovedK(survey, rows),
      },
    ];
  });
}

/** Share of the window that must be left once balancing is taken out, and s a bled group takes to settle. Engineering defaults. */
const balancedLeaves = 0.95;
const settlesS = 3600;

/** Largest range of the median probe over the rows, K. */
function warmthMovedK({ log, gates }: RowSurvey, rows: readonly number[]): number | null {
  const [low, high] = gates.temperaturePlausibleC;
  const typical = rows.flatMap((row) => {
    const here = log.temperatures.flatMap(({ valuesC }) => {
      const warm = valuesC[row] ?? Number.NaN;
      return warm >= low && warm <= high ? [warm] : [];
    });
    const middle = median(here);
    return middle === null ? [] : [middle];
  });
  return typical.length < 2 ? null : Math.max(...typical) - Math.min(...typical);
}

/**
 * Resolution of every group, V. A group that never moves has the step of the others, for one board logs them alike; where none
 * moves the step between their values stands for it. NaN where nothing tells: a slope without a known error.
 */
function steps({ resolutionV, log }: RowSurvey): Float64Array {
  const known = resolutionV.filter((step) => step > 0);
  const alike = known.length > 0 ? Math.min(...known) : columnResolution(firstRow(log.cellVoltagesV));
  return resolutionV.map((step) => (step > 0 ? step : alike > 0 ? alike : Number.NaN));
}

function firstRow(columns: readonly Float64Array[]): Float64Array {
  return Float64Array.from(columns, (column) => column[0] ?? Number.NaN);
}

/**
 * Standard error of a slope over an even series: sigma · sqrt(12 / n) / span, and what rounding leaves on the means at either end, which
 * does not average out over the series.
 */
function slopeError(off: number[], slope: number, at: number[], days: number, roundedMillivolt: number): number {
  const scatter = scaledMad(off.map((value, place) => value - slope * (at[place] ?? 0))) ?? 0;
  return Math.hypot(scatter * Math.sqrt(12 / off.length), Math.SQRT2 * roundedMillivolt) / days;
}

/** mV that rounding leaves on a mean of each group's readings, by the noise all groups show before it: one board reads them alike. */
function roundings(points: readonly (readonly MeanOff[])[], stepV: Float64Array): Float64Array {
  const inSteps = points.flatMap((means, index) => {
    const variances = means.flatMap(({ variance }) => (Number.isFinite(variance) ? [variance] : []));
    const step = stepV[index] ?? Number.NaN;
    const mean = variances.reduce((sum, one) => sum + one, 0) / variances.length;
    return Number.isFinite(mean / step) ? [mean / step ** 2] : [];
  });
  const left = roundingLeft(noiseBeforeRounding(median(inSteps) ?? 0));
  return stepV.map((step) => 1000 * step * left);
}

/** Rests averaged by their length, and their errors with them; what stands at the end is of the last. */
export function driftOverAll(rests: readonly RestDrift[]): RestDrift | null {
  const last = rests.at(-1);
  if (last === undefined) return null;
  const days = rests.reduce((sum, rest) => sum + rest.days, 0);
  const millivoltPerDay = last.millivoltPerDay.map(
    (_, index) => rests.reduce((sum, rest) => sum + (rest.millivoltPerDay[index] ?? Number.NaN) * rest.days, 0) / days,
  );
  return {
    ...last,
    millivoltPerDay,
    errorMillivoltPerDay: last.errorMillivoltPerDay.map(
      (_, index) =>
        Math.hypot(...rests.map((rest) => (rest.errorMillivoltPerDay[index] ?? Number.NaN) * rest.days)) / days,
    ),
    halves: rests.flatMap(({ halves }) => halves),
    each: rests.flatMap(({ each }) => each),
    days,
    rests: rests.length,
    warmthMovedK: rests.reduce<number | null>(
      (most, { warmthMovedK: moved }) => (moved === null ? most : Math.max(most ?? 0, moved)),
      null,
    ),
    scaledMad: scaledMad(millivoltPerDay) ?? 0,
  };
}

function rowsAfterWait(survey: RowSurvey, startRow: number, endRow: number, waitS: number): number[] {
  const startS = (survey.log.timeS[endRow] ?? 0) - (survey.restingS[endRow] ?? 0) + waitS;
  const endS = survey.log.timeS[endRow] ?? 0;
  const rows: number[] = [];
  const mask = survey.log.balancingMask;
  let nextS = startS;
  for (let row = startRow; row <= endRow; row += 1) {
    const timeS = survey.log.timeS[row] ?? 0;
    if (mask !== null && (mask[row] ?? 0) > 0) nextS = Math.max(nextS, timeS + settlesS);
    if (timeS < nextS || !Number.isFinite(survey.referenceV[row])) continue;
    rows.push(row);
    nextS = timeS + (endS - startS) / points;
  }
  return rows;
}

/** Rows of a point that its mean is taken over at most. Engineering default. */
const rowsOfPoint = 40;

/** Rows of rest from one point to before the next, evenly left out where they are many; at least the few around it. */
function rowsUpTo(survey: RowSurvey, row: number, next: number): number[] {
  const from = Math.min(row, Math.max(0, next - 5));
  const stride = Math.max(1, Math.ceil((next - from) / rowsOfPoint));
  const rows: number[] = [];
  for (let at = from; at < next; at += stride) {
    if ((survey.restingS[at] ?? -1) >= 0 && Number.isFinite(survey.referenceV[at])) rows.push(at);
  }
  return rows;
}

/** Mean time of the rows, s; that of the point's own where none is left. */
function middleS({ log }: RowSurvey, near: readonly number[], row: number): number {
  if (near.length === 0) return log.timeS[row] ?? 0;
  return near.reduce((sum, one) => sum + (log.timeS[one] ?? 0), 0) / near.length;
}

interface MeanOff {
  /** Mean deviation from the median group, V. */
  readonly offV: number;
  /** Variance of the group's own readings about their mean, V²; NaN from one row. */
  readonly variance: number;
}

/** V. A reading further than this from the middle one of its point is a bad frame and no noise. Engineering default. */
const badFrameV = 0.05;

/** One row's noise and rounding would cost the slope more than the blur does; a middle one would keep the rounding. */
function meanOf(survey: RowSurvey, column: Float64Array, rows: readonly number[]): MeanOff {
  const middle = column[rows[rows.length >> 1] ?? -1] ?? Number.NaN;
  let count = 0;
  let off = 0;
  let sum = 0;
  let squares = 0;
  for (const row of rows) {
    const apart = (column[row] ?? Number.NaN) - middle;
    if (!(Math.abs(apart) <= badFrameV)) continue;
    off += (column[row] ?? 0) - (survey.referenceV[row] ?? 0);
    sum += apart;
    squares += apart * apart;
    count += 1;
  }
  if (count === 0) return { offV: Number.NaN, variance: Number.NaN };
  const variance = count > 1 ? Math.max(0, (squares - (sum * sum) / count) / (count - 1)) : Number.NaN;
  return { offV: off / count, variance };
}
