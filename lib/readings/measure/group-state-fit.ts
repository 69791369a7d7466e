import { bledRows, drawColumns } from "@/lib/readings/measure/balancer-rows";
import { gridSlope, gridVoltage } from "@/lib/readings/measure/curve-grid";
import { median, scaledMad } from "@/lib/readings/measure/median";
import { PriorLeastSquares } from "@/lib/readings/measure/prior-least-squares";
import { isReadingAlone, readingPriors } from "@/lib/readings/measure/reading-alone";
import type { ReferenceCharge } from "@/lib/readings/measure/reference-charge";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface Estimate {
  readonly estimate: number;
  readonly sd: number;
}

/** How one group differs from the median group, all causes fitted together. */
export interface GroupState {
  /** Charge offset at the middle of the window, %. */
  readonly offsetPercent: Estimate;
  /** Q_median / Q_k - 1: 0.25 means 80 % of the median capacity. */
  readonly shortfall: Estimate;
  /** Extra resistance felt at once, and felt after about a minute, milliohm. */
  readonly fastMilliohm: Estimate;
  readonly slowMilliohm: Estimate;
  /** A shift that depends on nothing, V: a reading, not a state. */
  readonly shiftV: Estimate;
  /** Change of the offset, % per day. */
  readonly driftPercentPerDay: Estimate;
  /** Scatter of what the fit leaves, V; and the row-to-row noise within it. */
  readonly residualV: number;
  readonly noiseV: number;
  /** Mean Huber loss of the residuals: comparable between starts of one group. */
  readonly misfit: number;
}

export interface GroupStateFit {
  readonly groups: readonly (GroupState | null)[];
  /** State of charge the offsets refer to, %. */
  readonly centrePercent: number;
}

/** Prior widths: what a group may differ by before the log is read. Engineering defaults, deliberately wide. */
const priors = { offsetPercent: 15, shortfall: 0.25, shiftV: 0.003, driftPercentPerDay: 1 };
/** %. From such an offset on it is asked whether the reading alone is off: about half of an imbalance. Engineering default. */
const askedFromPercent = 2;
/** V. Voltage noise never taken smaller: resolution and the table's corners. */
const leastNoiseV = 0.0015;
/**
 * Share by which the slope of a curve that is not the pack's own may be wrong at a charge the median group never went through: only where it did
 * was the curve corrected by this pack. A weak group goes further down than the others, and what it reads there says little.
 */
const genericSlopeDoubt = 0.5;
const passes = 3;
/** Passes from another start, and V its residuals are taken for meanwhile: a poor first pass must not make the priors win. */
const passesFromAfar = 8;
const noiseFromAfarV = 0.01;

/**
 * Fits, for each group, V_k - V_median = [U(z + δ + γ·(z - zc) + d·t) - U(z)] + ρ·I + σ·I_slow + c.
 *
 * U is the open-circuit curve, z the median group's charge. The curve's own bends tell the causes apart: an offset of
 * charge shows where U is steep, a capacity shortfall grows along z, a resistance follows the current, a reading error
 * follows nothing. Gauss-Newton from zero, Huber-weighted rows; errors widened for correlated residuals. A group whose offset
 * is large is fitted once more as one whose reading alone is off: an offset of charge moves the volts with the curve's slope.
 * `asksReadings` false leaves that out: where the model's own curve is not known, its bends prove nothing.
 */
export function fitGroupStates(survey: RowSurvey, charge: ReferenceCharge, asksReadings = true): GroupStateFit {
  const centrePercent = (charge.window[0] + charge.window[1]) / 2;
  const ohm = Math.max(charge.fastOhm + charge.slowOhm, 0.0002);
  const middleS = survey.log.timeS[survey.log.rows >> 1] ?? 0;
  const days = Float64Array.from(charge.rows, (row) => ((survey.log.timeS[row] ?? 0) - middleS) / 86400);
  const priorSd = widths(priors, ohm);
  const readingSd = widths(readingPriors, ohm);
  const referenceV = Float64Array.from(charge.rows, (row) => survey.referenceV[row] ?? 0);
  const openV = charge.socPercent.map((soc) => gridVoltage(charge.grid, soc));
  const mask = survey.log.balancingMask;
  const masks = mask === null ? null : Float64Array.from(charge.rows, (row) => mask[row] ?? 0);
  const slopeDoubtBeyond = asksReadings ? 0 : genericSlopeDoubt;
  const frame = { masks, centrePercent, days, priorSd, referenceV, openV, slopeDoubtBeyond };
  const level: Start = { shortfall: 0, offset: 0 };
  const groups = survey.log.cellVoltagesV.map((column, index) =>
    fitOne(survey, charge, column, index, frame, level, passes),
  );
  const usual = median(groups.map((state) => state?.misfit ?? Number.NaN)) ?? 0;
  const shortfalls = groups.map((state) => state?.shortfall.estimate ?? Number.NaN);
  return {
    centrePercent,
    groups: groups.map((state, index) => {
      const column = survey.log.cellVoltagesV[index];
      if (state === null || column === undefined) return state;
      const isPoor = state.misfit >= poorFit * usual;
      // A group far from the others bends the curve past where one start finds it: other starts are tried.
      const tries = isPoor
        ? otherStarts.map((start) => fitOne(survey, charge, column, index, frame, start, passesFromAfar))
        : [];
      const asCharge = tries.reduce<GroupState>(
        (best, one) => (one !== null && one.misfit < best.misfit ? one : best),
        state,
      );
      if (!asksReadings) return asCharge;
      if (!isPoor && Math.abs(asCharge.offsetPercent.estimate) < askedFromPercent) return asCharge;
      const asReading = fitOne(survey, charge, column, index, { ...frame, priorSd: readingSd }, level, passesFromAfar);
      if (asReading === null) return asCharge;
      return isReadingAlone(asReading, asCharge, shortfalls, usual) ? asReading : asCharge;
    }),
  };
}

function widths(of: typeof priors, ohm: number): number[] {
  return [of.offsetPercent, of.shortfall * 100, ohm, ohm, of.shiftV, of.driftPercentPerDay];
}

/** Multiple of what is usually left, and V, that a fit leaves of a group it does not describe. Engineering defaults. */
const unlikeTheRest = 3;
const unlikeTheRestV = 0.004;

/**
 * Groups of which the fit leaves far more than of the others: what ails them is none of the causes fitted. From 1. What a reading jumps by
 * from row to row is taken out first: coarse steps that flicker are noise, and no cause is to be found in noise.
 */
export function poorlyFitted({ groups }: GroupStateFit): ReadonlySet<number> {
  const usualV = median(groups.map((state) => state?.residualV ?? Number.NaN)) ?? 0;
  return new Set(
    groups.flatMap((state, index) => {
      if (state === null) return [];
      const leftV = Math.sqrt(Math.max(0, state.residualV ** 2 - state.noiseV ** 2));
      return leftV >= Math.max(unlikeTheRestV, unlikeTheRest * usualV) ? [index + 1] : [];
    }),
  );
}

/** Misfit against the usual group's from which other starts are tried; the starts. A weak group is level when full. */
const poorFit = 2;
const otherStarts: readonly Start[] = [
  { shortfall: 0.25, offset: 0 },
  { shortfall: 0.6, offset: 0 },
  { shortfall: 1, offset: 0 },
  { shortfall: 0, offset: -5 },
  { shortfall: 0, offset: -12 },
  { shortfall: 0, offset: 6 },
];
/** V. Residual at which misfit stops growing with the square, and its growth with the curve's slope. */
const misfitScaleV = 0.003;

interface Start {
  readonly shortfall: number;
  /** %. */
  readonly offset: number;
}

interface Frame {
  /** Groups whose balancers draw at each row, bit 0 the first; null where that is not logged. */
  readonly masks: Float64Array | null;
  readonly centrePercent: number;
  readonly days: Float64Array;
  /** Median group, as measured and on the curve at its charge, V: the same for every group and every pass. */
  readonly referenceV: Float64Array;
  readonly openV: Float64Array;
  readonly priorSd: readonly number[];
  readonly slopeDoubtBeyond: number;
}

function fitOne(
  survey: RowSurvey,
  charge: ReferenceCharge,
  column: Float64Array,
  index: number,
  frame: Frame,
  start: Start,
  passesOfStart: number,
): GroupState | null {
  const [low, high] = survey.gates.cellPlausibleV;
  const [lowestPercent, highestPercent] = charge.window;
  const doubt = frame.slopeDoubtBeyond;
  const bled = bledRows(frame.masks, index);
  // Where hardly a row is left without a balancer's draw, what it draws through the leads is fitted instead.
  const draws = bled === null ? drawColumns(frame.masks, index) : [];
  const count = causes + draws.length;
  const theta = new Float64Array(count);
  theta.set([start.offset - start.shortfall * (100 - frame.centrePercent), 100 * start.shortfall]);
  const residuals = new Float64Array(charge.rows.length);
  const predictors = new Float64Array(count);
  const priorSd = [...frame.priorSd, ...draws.map(() => drawPriorV)];
  let sd = Float64Array.from(priorSd);
  let noiseV = 0.01;
  let misfit = 0;
  for (let pass = 0; pass <= passesOfStart; pass += 1) {
    const fit = new PriorLeastSquares(count);
    let used = 0;
    misfit = 0;
    for (let place = 0; place < charge.rows.length; place += 1) {
      const row = charge.rows[place] ?? 0;
      residuals[place] = Number.NaN;
      const volt = column[row] ?? Number.NaN;
      if (!(volt >= low && volt <= high) || bled?.[place] === 1) continue;
      const soc = charge.socPercent[place] ?? 0;
      const along = (soc - frame.centrePercent) / 100;
      const day = frame.days[place] ?? 0;
      const current = survey.log.currentA[row] ?? 0;
      const slow = charge.slowCurrentA[place] ?? 0;
      const own = soc + (theta[0] ?? 0) + (theta[1] ?? 0) * along + (theta[5] ?? 0) * day;
      const slope = gridSlope(charge.grid, own);
      const beyondV = doubt * slope * Math.max(0, lowestPercent - own, own - highestPercent);
      predictors[0] = slope;
      predictors[1] = slope * along;
      predictors[2] = current;
      predictors[3] = slow;
      predictors[4] = 1;
      predictors[5] = slope * day;
      let drawnV = 0;
      for (let one = 0; one < draws.length; one += 1) {
        predictors[causes + one] = draws[one]?.[place] ?? 0;
        drawnV += (theta[causes + one] ?? 0) * (predictors[causes + one] ?? 0);
      }
      const modelled =
        gridVoltage(charge.grid, own) -
        (frame.openV[place] ?? 0) +
        (theta[2] ?? 0) * current +
        (theta[3] ?? 0) * slow +
        (theta[4] ?? 0) +
        drawnV;
      const residual = volt - (frame.referenceV[place] ?? 0) - modelled;
      residuals[place] = beyondV === 0 ? residual : residual * (noiseV / Math.hypot(noiseV, beyondV));
      used += 1;
      const size = Math.abs(residual) / (misfitScaleV + 0.25 * slope + beyondV);
      misfit += size > 1 ? 2 * size - 1 : size * size;
      let response = residual;
      for (let i = 0; i < count; i += 1) response += (predictors[i] ?? 0) * (theta[i] ?? 0);
      // Where the curve is steepest the table is least true: such rows count less.
      const bendV = 0.5 * Math.max(0, slope - 0.015);
      const scale = bendV + beyondV === 0 ? noiseV : Math.hypot(noiseV, bendV, beyondV);
      const off = Math.abs(residual) / (2 * scale);
      fit.add(predictors, response, (noiseV / scale) ** 2 * (off > 1 ? 1 / off : 1));
    }
    if (used < 50) return null;
    misfit /= used;
    noiseV = Math.max(leastNoiseV, scaledMad(residuals) ?? leastNoiseV);
    if (pass === passesOfStart) break;
    const onTheWay = passesOfStart > passes && pass < passesOfStart - 2;
    const solved = fit.solve(
      priorSd,
      onTheWay ? Math.min(noiseV, noiseFromAfarV) : noiseV,
      independentShare(residuals),
    );
    theta.set(solved.mean);
    sd = Float64Array.from(solved.sd);
  }
  const at = (index: number, factor: number): Estimate => ({
    estimate: (theta[index] ?? 0) * factor,
    sd: (sd[index] ?? 0) * factor,
  });
  return {
    offsetPercent: at(0, 1),
    shortfall: at(1, 0.01),
    fastMilliohm: at(2, 1000),
    slowMilliohm: at(3, 1000),
    shiftV: at(4, 1),
    driftPercentPerDay: at(5, 1),
    residualV: noiseV,
    misfit,
    noiseV: (scaledMad(differences(residuals)) ?? noiseV) / Math.SQRT2,
  };
}

/** Causes fitted to every group, and V that a balance current leaves at its leads: own draw, and that of a neighbour. */
const causes = 6;
const drawPriorV = 0.05;

/** (1 - r) / (1 + r) of the lag-1 autocorrelation r of the residuals: the share of rows that count as independent. */
function independentShare(residuals: Float64Array): number {
  let products = 0;
  let squares = 0;
  let before = Number.NaN;
  for (const residual of residuals) {
    if (Number.isFinite(residual * before)) {
      products += residual * before;
      squares += residual * residual;
    }
    before = residual;
  }
  const r = squares > 0 ? Math.min(0.98, Math.max(0, products / squares)) : 0;
  return (1 - r) / (1 + r);
}

function differences(values: Float64Array): Float64Array {
  return values.map((value, at) => value - (values[at - 1] ?? Number.NaN));
}
