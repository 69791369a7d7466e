import { findRoot } from "./find-root";
import { poissonDensity } from "./poisson-density";

/**
 * Log likelihood ratio of "more events than expected" for a Poisson count so far: count ln(count / expected) + expected -
 * count, and 0 where no more than expected were seen. Domain: whole count from 0, expected above 0, else a RangeError.
 * Source: Kulldorff et al., Sequential Analysis 30 (2011) 58-78.
 */
export function sequentialRatio(count: number, expected: number): number {
  if (!Number.isSafeInteger(count) || count < 0) throw new RangeError(`count must be whole from 0, got ${count}`);
  if (!(expected > 0)) throw new RangeError(`expected must be above 0, got ${expected}`);
  return count <= expected ? 0 : count * Math.log(count / expected) + expected - count;
}

/**
 * The same where what is to be expected was itself estimated from `baseline` failures: given how many events there are in both
 * together, the count is binomial with share expected / (expected + baseline). Smaller than with a known expectation, and the same
 * as `baseline` grows without end. Domain: whole count from 0, expected and baseline above 0, else a RangeError.
 * Source: Li & Kulldorff, Statistics in Medicine 29 (2010) 284-295 (the conditional maximised ratio; quoted from memory).
 */
export function conditionalRatio(count: number, expected: number, baseline: number): number {
  if (!(baseline > 0)) throw new RangeError(`baseline must be above 0, got ${baseline}`);
  const known = sequentialRatio(count, expected);
  if (known === 0 || baseline === Number.POSITIVE_INFINITY) return known;
  // count ln(count / expected) + (count + baseline) ln((expected + baseline) / (count + baseline)), kept exact for a large baseline.
  const all = count + baseline;
  return Math.max(0, count * Math.log(count / expected) + all * Math.log1p((expected - count) / all));
}

/**
 * Probability that the ratio reaches `criticalValue` at any moment until `expectedAtEnd` events would have been expected, if
 * events come `rateRatio` times as often as expected: the false alarm rate for 1, the power for more.
 *
 * Exact: the n-th event signals if it comes before the moment at which n events reach the value. Between those moments the
 * count is Poisson, so its distribution, with paths that have signalled taken out, is carried from moment to moment.
 * Source: Kulldorff et al. (2011), section 3; own code, checked against their tables 1 and 2.
 */
export function signalProbability(criticalValue: number, expectedAtEnd: number, rateRatio = 1): number {
  for (const [name, value] of Object.entries({ criticalValue, expectedAtEnd, rateRatio }))
    if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`${name} must be above 0, got ${value}`);
  // Probabilities of each count so far, without a signal. Before the first event: none.
  let running = [1];
  let signalled = 0;
  let from = 0;
  for (let n = 1; ; n++) {
    // Up to this expected number n events are a signal, n - 1 are not.
    const moment = Math.min(expectedAtSignal(n, criticalValue), expectedAtEnd);
    const mean = rateRatio * (moment - from);
    const arriving = Array.from({ length: n }, (_, k) => poissonDensity(k, mean));
    const next = new Array<number>(n).fill(0);
    for (const [i, probability] of running.entries())
      for (let j = i; j < n; j++) next[j] = (next[j] ?? 0) + probability * (arriving[j - i] ?? 0);
    signalled += total(running) - total(next);
    if (moment >= expectedAtEnd) return signalled;
    running = next;
    from = moment;
  }
}

/** Expected number at which n events just reach the value: below n, where the ratio falls as more are expected. */
function expectedAtSignal(n: number, criticalValue: number): number {
  const excess = (logExpected: number) => n * (Math.log(n) - logExpected) + Math.exp(logExpected) - n - criticalValue;
  return Math.exp(findRoot(excess, Math.log(n) - 2 - criticalValue / n, Math.log(n)));
}

/** Values searched; at 1 chance alone signals nearly always, at 40 never. */
const SMALLEST_VALUE = 0.05;
const LARGEST_VALUE = 40;

/**
 * Value the ratio must reach for an alarm, so that chance alone raises one with probability `alpha` at any time until
 * `expectedAtEnd` events would have been expected: one can look every day without paying for each look.
 * Sharing alpha over revisions and kinds of failure is up to the caller (alpha / number of them).
 * Domain: alpha from 1e-6 to 0.5, expectedAtEnd above 0 and up to 1000 (the exact sums grow with its square), else a
 * RangeError. Source: Kulldorff et al. (2011), table 1.
 */
export function criticalRatio(alpha: number, expectedAtEnd: number): number {
  if (!(alpha >= 1e-6 && alpha <= 0.5)) throw new RangeError(`alpha must lie between 1e-6 and 0.5, got ${alpha}`);
  if (!(expectedAtEnd > 0 && expectedAtEnd <= 1000))
    throw new RangeError(`expectedAtEnd must lie between 0 and 1000, got ${expectedAtEnd}`);
  // Far beyond the answer the sums can end at 0 or, by rounding, just below it: no logarithm must be asked of that.
  const excess = (value: number) => Math.log(Math.max(1e-300, signalProbability(value, expectedAtEnd)) / alpha);
  return findRoot(excess, SMALLEST_VALUE, LARGEST_VALUE);
}

function total(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}
