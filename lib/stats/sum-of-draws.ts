/**
 * Draws whose numbers are added up, each with its chances of 0, 1, ... up to its degree, in columns. One of a `power` above 1 is drawn
 * so many times.
 */
export interface Draws {
  readonly count: number;
  readonly chances: Float64Array;
  /** Where the chances of each draw begin. */
  readonly start: Int32Array;
  readonly degree: Int32Array;
  readonly power: Int32Array;
}

/** Chances of a sum, for the numbers from `first` on. */
export interface ChancesOfSum {
  readonly first: number;
  readonly chances: Float64Array;
}

/** From this variance on the chances are taken from the transform, which then costs a fraction of carrying them from draw to draw. */
const LEAST_VARIANCE_TRANSFORMED = 16;

/**
 * Answers: with which chance is the sum of independent draws this or that number, around its middle? What is left out on both sides has a
 * chance of less than 1e-18.
 *
 * Few draws are added one after the other. Many are multiplied as characteristic functions at the few frequencies at which their
 * product is not 0 to the last digit, and taken back by a discrete Fourier transform over a period so long that what it folds
 * together is below 1e-18 as well. Both bounds are of sums of yes-or-no draws, which draws without replacement are in
 * distribution: Bernstein's inequality for the tails, |c(w)| <= exp(-variance (1 - cos w)) for the product.
 * Sources: Hong, Computational Statistics & Data Analysis 59 (2013) 41-51 for the transform (from memory); Vatutin & Mikhailov, Theory Probab. Appl. 27 (1982)
 * 734-743 for draws without replacement (from memory).
 */
export function chancesOfSum(draws: Draws): ChancesOfSum {
  const { mean, variance } = momentsOf(draws);
  return variance < LEAST_VARIANCE_TRANSFORMED ? addedUp(draws) : transformed(draws, mean, variance);
}

/** -ln of what is left out. */
const LEFT_OUT = 42;

function transformed(draws: Draws, mean: number, variance: number): ChancesOfSum {
  const reach = Math.ceil(LEFT_OUT / 3 + Math.sqrt((LEFT_OUT / 3) ** 2 + 2 * LEFT_OUT * variance));
  const first = Math.round(mean) - reach;
  const period = 2 * reach + 1;
  const chances = new Float64Array(period).fill(1 / period);
  for (let j = 1; 2 * j <= period; j++) {
    const frequency = (2 * Math.PI * j) / period;
    if (variance * (1 - Math.cos(frequency)) > LEFT_OUT) break;
    const { real, imaginary } = characteristic(draws, frequency);
    for (let i = 0; i < period; i++) {
      // Folded back into one period, so that the angle keeps its digits.
      const angle = (2 * Math.PI * ((((j * (first + i)) % period) + period) % period)) / period;
      chances[i] = (chances[i] ?? 0) + (2 / period) * (real * Math.cos(angle) + imaginary * Math.sin(angle));
    }
  }
  return { first, chances };
}

function characteristic({ count, chances, start, degree, power }: Draws, frequency: number) {
  const [cos, sin] = [Math.cos(frequency), Math.sin(frequency)];
  let [real, imaginary] = [1, 0];
  for (let d = 0; d < count; d++) {
    const [from, to] = [start[d] ?? 0, (start[d] ?? 0) + (degree[d] ?? 0)];
    let re = chances[to] ?? 0;
    let im = 0;
    for (let i = to - 1; i >= from; i--) {
      const turned = re * cos - im * sin + (chances[i] ?? 0);
      im = re * sin + im * cos;
      re = turned;
    }
    for (let times = power[d] ?? 0; times > 0; times--) {
      const product = real * re - imaginary * im;
      imaginary = real * im + imaginary * re;
      real = product;
    }
  }
  return { real, imaginary };
}

function momentsOf({ count, chances, start, degree, power }: Draws) {
  let mean = 0;
  let variance = 0;
  for (let d = 0; d < count; d++) {
    let first = 0;
    let second = 0;
    for (let k = 1; k <= (degree[d] ?? 0); k++) {
      const chance = chances[(start[d] ?? 0) + k] ?? 0;
      first += k * chance;
      second += k * k * chance;
    }
    mean += (power[d] ?? 0) * first;
    variance += (power[d] ?? 0) * (second - first * first);
  }
  return { mean, variance };
}

/** Chances of less are left out at both ends where the sum is carried on. */
const LEAST_CARRIED = 1e-30;

function addedUp({ count, chances, start, degree, power }: Draws): ChancesOfSum {
  let first = 0;
  let sum = Float64Array.of(1);
  for (let d = 0; d < count; d++) {
    const [from, most] = [start[d] ?? 0, degree[d] ?? 0];
    for (let times = power[d] ?? 0; times > 0; times--) {
      const next = new Float64Array(sum.length + most);
      for (let k = 0; k <= most; k++) {
        const chance = chances[from + k] ?? 0;
        for (let i = 0; i < sum.length; i++) next[i + k] = (next[i + k] ?? 0) + (sum[i] ?? 0) * chance;
      }
      let [low, high] = [0, next.length];
      while (low < high - 1 && (next[low] ?? 0) < LEAST_CARRIED) low += 1;
      while (high > low + 1 && (next[high - 1] ?? 0) < LEAST_CARRIED) high -= 1;
      first += low;
      sum = next.subarray(low, high);
    }
  }
  return { first, chances: sum };
}
