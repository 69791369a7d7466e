import { type AmountKind, amountLattice, amountMoments, largestAmount } from "./amount-lattice";
import { fourier } from "./fourier";
import { normalGrid } from "./normal-grid";

/** A random number of amounts: probability of each number from 0, and what a single amount is like. */
export interface CompoundPart {
  readonly counts: Float64Array;
  readonly amounts: readonly AmountKind[];
}

/** Probabilities of 0, step, 2 step, ...; the last point stands for nothing worth telling. */
export interface LatticeDistribution {
  readonly step: number;
  readonly shares: Float64Array;
}

/** Points of the lattice: a limit is told to about one part in a thousand. A power of two. */
const POINTS = 8192;
/** The lattice ends so many standard deviations above the mean of the sum, or where nothing more can come, if that is nearer. */
const DEVIATIONS = 12;
/** Counts less likely than this are cut off at both ends. */
const NEGLIGIBLE = 1e-11;
/** Step, in standard deviations, of the grid over the error that all amounts share. */
const ERROR_STEP = 0.125;

/**
 * Distribution of the sum of all amounts of all parts: numbers and amounts independent, within a part and between them.
 *
 * The transform of a part is the generating function of its counts at the transform of a single amount; the transforms are
 * multiplied and turned back. Nothing is approximated but the lattice, which keeps every mean. `counts` may be any
 * distribution: mixed over the doubt about a rate, it carries that doubt into the sum.
 * Null where every part is certain to be nothing.
 * Source: Klugman, Panjer & Willmot, Loss Models, on inversion of the compound distribution by the fast Fourier transform
 * (from memory: verify in section 9.8); Robertson, Proc. CAS 79 (1992) 57.
 */
export function compoundSum(parts: readonly CompoundPart[]): LatticeDistribution | null {
  const trimmed = parts.map(({ counts, amounts }) => ({ ...trim(counts), amounts }));
  const range = rangeOf(trimmed);
  if (!(range > 0)) return null;
  const step = range / (POINTS - 1);
  const product = { real: new Float64Array(POINTS).fill(1), imaginary: new Float64Array(POINTS) };
  for (const part of trimmed) multiplyBy(product, part, amountLattice(part.amounts, step, POINTS));
  fourier(product.real, product.imaginary, true);
  return { step, shares: product.real.map((share) => Math.max(0, share)) };
}

/**
 * Smallest sum up to which at least the share `level` lies. `relativeError` is the standard error, as a share, of an error
 * that all amounts have in common (their mean is not known better than that): lognormal with mean 1.
 */
export function sumQuantile(distribution: LatticeDistribution | null, level: number, relativeError = 0): number {
  if (distribution === null) return 0;
  const { step, shares } = distribution;
  const upTo = cumulated(shares);
  const last = upTo.length - 1;
  const at = (amount: number) => upTo[Math.min(last, Math.floor(amount / step + 1e-9))] ?? 1;
  if (relativeError === 0) return upTo.findIndex((share) => share >= level) * step;
  const factors = commonFactors(relativeError);
  const below = (amount: number) => factors.reduce((sum, { factor, weight }) => sum + weight * at(amount / factor), 0);
  let [low, high] = [-step, last * step * Math.max(...factors.map(({ factor }) => factor))];
  if (below(0) >= level) return 0;
  while (high - low > step / 2) {
    const middle = (low + high) / 2;
    if (below(Math.max(0, middle)) >= level) high = middle;
    else low = middle;
  }
  return high;
}

function commonFactors(relativeError: number): { factor: number; weight: number }[] {
  const logVariance = Math.log1p(relativeError ** 2);
  return normalGrid(ERROR_STEP).map(({ z, weight }) => ({
    factor: Math.exp(Math.sqrt(logVariance) * z - logVariance / 2),
    weight,
  }));
}

function cumulated(shares: Float64Array): Float64Array {
  const total = shares.reduce((sum, share) => sum + share, 0);
  let sum = 0;
  return shares.map((share) => {
    sum += share / total;
    return Math.min(1, sum);
  });
}

interface TrimmedPart {
  /** Number that the first share stands for. */
  readonly from: number;
  readonly shares: Float64Array;
  readonly amounts: readonly AmountKind[];
}

function trim(counts: Float64Array): Omit<TrimmedPart, "amounts"> {
  const from = Math.max(
    0,
    counts.findIndex((share) => share > NEGLIGIBLE),
  );
  return { from, shares: counts.slice(from, counts.findLastIndex((share) => share > NEGLIGIBLE) + 1) };
}

function rangeOf(parts: readonly TrimmedPart[]): number {
  let [mean, variance, most] = [0, 0, 0];
  for (const { from, shares, amounts } of parts) {
    const single = amountMoments(amounts);
    let [number, square] = [0, 0];
    for (const [i, share] of shares.entries()) {
      number += share * (from + i);
      square += share * (from + i) ** 2;
    }
    const largest = from + shares.length - 1;
    mean += number * single.mean;
    variance += number * single.variance + Math.max(0, square - number ** 2) * single.mean ** 2;
    most += largest * single.mean + DEVIATIONS * Math.sqrt(largest * single.variance) + sureMost(largest, amounts);
  }
  return Math.min(
    most,
    mean + DEVIATIONS * Math.sqrt(variance) + Math.max(...parts.map((p) => largestAmount(p.amounts))),
  );
}

/** One amount beyond the rest, where there can be any. */
function sureMost(largest: number, amounts: readonly AmountKind[]): number {
  return largest === 0 ? 0 : largestAmount(amounts);
}

/** Multiplies the transform of the product so far by that of a part; the upper half mirrors the lower one. */
function multiplyBy(
  { real, imaginary }: { real: Float64Array; imaginary: Float64Array },
  { from, shares }: TrimmedPart,
  single: Float64Array,
): void {
  const still = new Float64Array(single.length);
  fourier(single, still);
  const n = single.length;
  for (let k = 0; k <= n / 2; k++) {
    const zr = single[k] ?? 0;
    const zi = still[k] ?? 0;
    let re = 0;
    let im = 0;
    // The innermost loop of a forecast: pairs put into arrays would cost more than the arithmetic.
    for (let i = shares.length - 1; i >= 0; i--) {
      const turned = re * zi + im * zr;
      re = re * zr - im * zi + (shares[i] ?? 0);
      im = turned;
    }
    const length = Math.hypot(zr, zi) ** from;
    const angle = Math.atan2(zi, zr) * from;
    const pr = length * Math.cos(angle);
    const pi = length * Math.sin(angle);
    const fromRe = re * pr - im * pi;
    const fromIm = re * pi + im * pr;
    const ar = real[k] ?? 0;
    const ai = imaginary[k] ?? 0;
    real[k] = ar * fromRe - ai * fromIm;
    imaginary[k] = ar * fromIm + ai * fromRe;
    if (k === 0 || k === n / 2) continue;
    real[n - k] = real[k] ?? 0;
    imaginary[n - k] = -(imaginary[k] ?? 0);
  }
}
