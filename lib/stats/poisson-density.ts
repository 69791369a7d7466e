import gammaln from "@stdlib/math-base-special-gammaln";

/** From here on Stirling's series below is good to the last bit. */
const STIRLING_FROM = 16;

/**
 * Natural logarithm of mean^count exp(-mean) / Gamma(count + 1): the Poisson probability for a whole count, and the
 * factor in front of the incomplete gamma function for any other.
 *
 * The plain formula subtracts numbers of the size of the count from one another and has lost nine digits at a count of
 * a million; here only what is left of the difference is ever computed.
 * Domain: count >= 0, mean >= 0. Edge: mean 0 gives 0 for count 0 and minus infinity above.
 * Source: Loader, Fast and Accurate Computation of Binomial Probabilities (2000).
 */
export function logPoissonDensity(count: number, mean: number): number {
  if (mean === 0) return count === 0 ? 0 : Number.NEGATIVE_INFINITY;
  if (count === 0) return -mean;
  if (count < STIRLING_FROM) return count * Math.log(mean) - mean - gammaln(count + 1);
  return -stirlingRest(count) - deviance(count, mean) - Math.log(2 * Math.PI * count) / 2;
}

/** Poisson probability of exactly `count` events at a given mean. Domain as for its logarithm. */
export function poissonDensity(count: number, mean: number): number {
  return Math.exp(logPoissonDensity(count, mean));
}

/** ln Gamma(n + 1) minus Stirling's formula: 1/(12 n) - 1/(360 n^3) + ... */
function stirlingRest(n: number): number {
  const n2 = n * n;
  return (1 / 12 - (1 / 360 - (1 / 1260 - (1 / 1680 - 1 / 1188 / n2) / n2) / n2) / n2) / n;
}

/** x ln(x / m) + m - x, without cancellation where x is near m. */
function deviance(x: number, m: number): number {
  if (Math.abs(x - m) >= 0.1 * (x + m)) return x * Math.log(x / m) + m - x;
  const v = (x - m) / (x + m);
  let sum = (x - m) * v;
  let term = 2 * x * v;
  for (let j = 1; j < 1000; j++) {
    term *= v * v;
    const next = sum + term / (2 * j + 1);
    if (next === sum) return next;
    sum = next;
  }
  return sum;
}
