/**
 * Probabilities of 0 to `trials` successes where each trial succeeds by one unknown chance, known from `successes` and `failures`
 * seen before (Jeffreys: half a case added to each). Source: Johnson, Kemp and Kotz, Univariate Discrete Distributions, on the
 * beta-binomial (from memory: verify in chapter 6).
 */
export function betaBinomial(
  trials: number,
  seen: { readonly successes: number; readonly failures: number },
): Float64Array {
  const a = seen.successes + 0.5;
  const b = seen.failures + 0.5;
  const logs = new Float64Array(trials + 1);
  for (let k = 0; k < trials; k++)
    logs[k + 1] = (logs[k] ?? 0) + Math.log(((trials - k) / (k + 1)) * ((a + k) / (b + trials - k - 1)));
  const highest = logs.reduce((most, one) => Math.max(most, one), 0);
  const shares = logs.map((log) => Math.exp(log - highest));
  const total = shares.reduce((sum, one) => sum + one, 0);
  return shares.map((share) => share / total);
}
