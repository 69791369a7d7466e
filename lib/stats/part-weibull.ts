/** A Weibull distribution of the ages at failure of a share of units; the others never fail. A share of 1 is all of them. */
export interface PartWeibull {
  readonly share: number;
  readonly shape: number;
  readonly scale: number;
}

/**
 * Chance that a unit running at one age has failed by another, given the cumulative hazards (age / scale) ^ shape at both:
 * [p F(to) - p F(from)] / [1 - p F(from)], kept exact where it is small. Domain: 0 <= from <= to; share in (0, 1].
 */
export function chanceOfFailing(share: number, hazardFrom: number, hazardTo: number): number {
  return -canFail(share, hazardFrom) * Math.expm1(hazardFrom - hazardTo);
}

/** Hazard gathered over a short step, by a unit running at its start. */
export function hazardOfStep(share: number, hazardFrom: number, hazardTo: number): number {
  return canFail(share, hazardFrom) * (hazardTo - hazardFrom);
}

/** Chance that a unit still running is one of those that can fail: p S / (1 - p + p S) of their survival S. */
function canFail(share: number, hazard: number): number {
  return share === 1 ? 1 : share / (share + (1 - share) * Math.exp(hazard));
}
