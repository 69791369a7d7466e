/**
 * What rounding leaves on a mean of many readings. Noise before a converter carries a reading across its steps, now up, now down, so that
 * the mean of many tells more than a step; without noise all of them are off alike and nothing averages out. Uniform rounding with
 * Gaussian noise s, in steps: the mean is off by sum over k of (-1)^k / (pi k) exp(-2 pi^2 k^2 s^2) sin(2 pi k x) (Widrow and Kollar,
 * Quantization Noise, 2008, ch. 4 and 9; from memory, checked by simulation in the tests).
 */

/** Terms of the sums; the next is smaller than the first by more than a hundred wherever it matters. */
const terms = 60;

/** Standard deviation of what rounding leaves on a mean, in steps, wherever between two steps it lies: 1/sqrt(12) without noise. */
export function roundingLeft(noiseSteps: number): number {
  let squares = 0;
  for (let k = 1; k <= terms; k += 1)
    squares += (Math.exp(-2 * (Math.PI * k * noiseSteps) ** 2) / (Math.PI * k)) ** 2 / 2;
  return Math.sqrt(squares);
}

/**
 * Noise before rounding, in steps, from the variance that rounded readings show about their own mean, in steps squared, over all places
 * between two steps: noise^2 + 1/12 - roundingLeft^2, which is turned round by halving.
 */
export function noiseBeforeRounding(varianceSteps: number): number {
  let low = 0;
  let high = Math.sqrt(Math.max(0, varianceSteps)) + 1;
  for (let turn = 0; turn < 40; turn += 1) {
    const middle = (low + high) / 2;
    const shows = middle ** 2 + 1 / 12 - roundingLeft(middle) ** 2;
    if (shows > varianceSteps) high = middle;
    else low = middle;
  }
  return low;
}
