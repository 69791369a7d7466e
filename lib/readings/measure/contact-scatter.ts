import { steps } from "@/lib/readings/measure/group-resistance";
import { median, scaledMad } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { slopeThroughOrigin } from "@/lib/readings/measure/slope-through-origin";

export interface ContactScatter {
  /** Scatter of the excess, noise taken out, as a share of what the excess itself takes at each load step. */
  readonly share: number;
  /** The same of the median group's own resistance: what polarisation alone scatters in this log. */
  readonly usualShare: number;
  readonly pairs: number;
}

/** What is the same for every group of a log: the load steps, and how the median group answers them. */
export interface ContactBasis {
  readonly rows: Int32Array;
  readonly amps: Float64Array;
  readonly reference: Float64Array;
  readonly typicalA: number;
  readonly noiseV: number;
  /** See ContactScatter. */
  readonly usualShare: number;
}

/** Null where the log holds too few load steps, or the groups do not follow them. O(pairs · groups). */
export function contactBasis(survey: RowSurvey, rows: Int32Array): ContactBasis | null {
  if (rows.length < 20) return null;
  const amps = steps(rows, survey.log.currentA);
  const reference = steps(rows, survey.referenceV);
  const usualOhm = slopeThroughOrigin(amps, reference);
  const typicalA = Math.sqrt(median(amps.map((amp) => amp * amp)) ?? 0);
  const noiseV = median(
    survey.log.cellVoltagesV.map((other) => scaledMad(difference(steps(rows, other), reference)) ?? Number.NaN),
  );
  if (noiseV === null || typicalA === 0 || usualOhm <= 0) return null;
  const usualRest = reference.map((volt, place) => volt - usualOhm * (amps[place] ?? 0));
  const usualShare = rootMeanSquare(usualRest) / (usualOhm * rootMeanSquare(amps));
  return { rows, amps, reference, typicalA, noiseV, usualShare };
}

/**
 * How faithfully an excess follows the load steps. A cell's follows them as every cell's resistance does; a contact that
 * opens and closes between rows does not, however coarsely the log was sampled. `null` where noise hides it.
 *
 * Residuals of the regression of the group's deviation on the current, over the same pairs as the resistance: scaled MAD
 * less the noise (the median group's scatter of the same kind), over |excess| times the typical step.
 */
export function contactScatter(
  { rows, amps, reference, typicalA, noiseV, usualShare }: ContactBasis,
  column: Float64Array,
  excessOhm: number,
): ContactScatter | null {
  if (excessOhm * typicalA < noiseMultiple * noiseV) return null;
  const own = difference(steps(rows, column), reference);
  const rest = own.map((volt, place) => volt - excessOhm * (amps[place] ?? 0));
  const scatterV = Math.sqrt(Math.max(0, (rootMeanSquare(rest) ?? 0) ** 2 - noiseV ** 2));
  return { share: scatterV / (excessOhm * rootMeanSquare(amps)), usualShare, pairs: rows.length };
}

/** What the excess takes at a typical step must exceed the noise of the deviations by this. Engineering default. */
const noiseMultiple = 1.2;

function difference(a: Float64Array, b: Float64Array): Float64Array {
  return a.map((value, place) => value - (b[place] ?? Number.NaN));
}

/** Of the finite values, the largest hundredth left out: one glitch is no scatter. */
function rootMeanSquare(values: Float64Array): number {
  const squares = values
    .filter(Number.isFinite)
    .map((value) => value * value)
    .sort();
  const kept = squares.subarray(0, Math.max(1, Math.floor(0.99 * squares.length)));
  return kept.length === 0 ? 0 : Math.sqrt(kept.reduce((sum, one) => sum + one, 0) / kept.length);
}

/** Share of what an excess adds one way that it must add the other way. Engineering default. */
const bothWaysShare = 0.3;

/**
 * Whether an excess shows as the load rises and as it falls: a contact takes and gives back, while a group that runs empty falls whichever way the
 * load goes, which follows the load as little.
 */
export function addsBothWays({ rows, amps, reference }: ContactBasis, column: Float64Array): boolean {
  const own = difference(steps(rows, column), reference);
  const ohm = [1, -1].map((way) => {
    let taken = 0;
    let flowed = 0;
    for (const [place, amp] of amps.entries()) {
      const volt = own[place] ?? Number.NaN;
      if (amp * way <= 0 || !Number.isFinite(volt)) continue;
      taken += volt * way;
      flowed += Math.abs(amp);
    }
    return flowed > 0 ? taken / flowed : 0;
  });
  const [most, least] = [Math.max(...ohm), Math.min(...ohm)];
  return least > 0 && least >= bothWaysShare * most;
}
