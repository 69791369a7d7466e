import { scaledMad } from "@/lib/readings/measure/median";

export interface DifferenceSlope {
  /** Change of the voltage per change of the current, ohm: current positive when charging, so positive for a cell. */
  readonly ohm: number;
  readonly standardErrorOhm: number;
  readonly pairs: number;
}

/**
 * Slope of voltage steps on current steps, cov(ΔI, ΔV) / var(ΔI): differences of neighbouring rows remove the
 * open-circuit voltage. With `trimSigmas` the pairs whose residual exceeds that many scaled MADs are left out once, so
 * that a jumping tap or a glitch does not set a resistance. NaN pairs are skipped; `null` for fewer than 3 pairs.
 */
export function differenceSlope(
  stepA: Float64Array,
  stepV: Float64Array,
  trimSigmas = Number.POSITIVE_INFINITY,
): DifferenceSlope | null {
  const first = fit(stepA, stepV, Number.NaN, Number.POSITIVE_INFINITY);
  if (first === null || !Number.isFinite(trimSigmas)) return first;
  const residuals = stepV.map((volt, place) => volt - first.interceptV - first.ohm * (stepA[place] ?? Number.NaN));
  const scale = scaledMad(residuals);
  if (scale === null || scale === 0) return first;
  return fit(stepA, stepV, first.ohm, trimSigmas * scale, first.interceptV) ?? first;
}

function fit(stepA: Float64Array, stepV: Float64Array, aroundOhm: number, withinV: number, aroundV = 0) {
  const keep = (amp: number, volt: number) =>
    Number.isFinite(amp + volt) &&
    (withinV === Number.POSITIVE_INFINITY || Math.abs(volt - aroundV - aroundOhm * amp) <= withinV);
  let pairs = 0;
  let meanA = 0;
  let meanV = 0;
  for (let place = 0; place < stepA.length; place += 1) {
    const amp = stepA[place] ?? Number.NaN;
    const volt = stepV[place] ?? Number.NaN;
    if (!keep(amp, volt)) continue;
    pairs += 1;
    meanA += (amp - meanA) / pairs;
    meanV += (volt - meanV) / pairs;
  }
  if (pairs < 3) return null;
  let varianceA = 0;
  let varianceV = 0;
  let covariance = 0;
  for (let place = 0; place < stepA.length; place += 1) {
    const amp = stepA[place] ?? Number.NaN;
    const volt = stepV[place] ?? Number.NaN;
    if (!keep(amp, volt)) continue;
    varianceA += (amp - meanA) ** 2;
    varianceV += (volt - meanV) ** 2;
    covariance += (amp - meanA) * (volt - meanV);
  }
  if (varianceA === 0) return null;
  const ohm = covariance / varianceA;
  const residual = Math.max(0, varianceV - ohm * covariance) / (pairs - 2);
  return { ohm, interceptV: meanV - ohm * meanA, standardErrorOhm: Math.sqrt(residual / varianceA), pairs };
}
