import normal from "@stdlib/stats-base-dists-normal";

/**
 * Probability that a chi-square variable with a whole number of degrees of freedom exceeds `chiSquare`: the p-value of
 * a chi-square test.
 *
 * For whole degrees of freedom it is a finite sum of positive terms, so nothing cancels even far out in the tail:
 * even: exp(-x/2) * sum (x/2)^j / j!; odd: 2 * Phi(-sqrt x) + the same sum over half-integers.
 * Domain: chiSquare >= 0, degreesOfFreedom a whole number from 1, else a RangeError.
 * Source: Abramowitz & Stegun, Handbook of Mathematical Functions, 26.4.4 and 26.4.5.
 */
export function chiSquareTail(chiSquare: number, degreesOfFreedom: number): number {
  if (!(chiSquare >= 0)) throw new RangeError(`chiSquare must be 0 or more, got ${chiSquare}`);
  if (!Number.isInteger(degreesOfFreedom) || degreesOfFreedom < 1) {
    throw new RangeError(`degreesOfFreedom must be a whole number from 1, got ${degreesOfFreedom}`);
  }
  const half = chiSquare / 2;
  const isOdd = degreesOfFreedom % 2 === 1;
  let tail = isOdd ? 2 * normal.cdf(-Math.sqrt(chiSquare), 0, 1) : 0;
  // (x/2)^power / Gamma(power + 1) * exp(-x/2), starting at power 1/2 (Gamma(3/2) = sqrt(pi)/2) or 0.
  let power = isOdd ? 0.5 : 0;
  let term = Math.exp(-half) * (isOdd ? (2 * Math.sqrt(half)) / Math.sqrt(Math.PI) : 1);
  while (power < degreesOfFreedom / 2 - 0.25) {
    tail += term;
    power += 1;
    term *= half / power;
  }
  return Math.min(1, tail);
}
