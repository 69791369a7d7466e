import { poissonDensity } from "./poisson-density";

/**
 * Reference value of a Poisson cumulative sum that is to tell the rate `bad` from the rate `good`: (bad - good) /
 * ln(bad / good), between the two. Domain: 0 < good < bad, else a RangeError.
 * Source: Lucas, Technometrics 27 (1985) 129-144.
 */
export function cumulativeSumReference(good: number, bad: number): number {
  if (!(good > 0 && bad > good)) throw new RangeError(`rates must rise from good to bad, got ${good}, ${bad}`);
  return (bad - good) / Math.log(bad / good);
}

export interface CumulativeSumStep {
  readonly sum: number;
  /** The sum has reached the decision interval: sum >= h, not sum > h, which would alarm later. */
  readonly signals: boolean;
}

/**
 * Upper cumulative sum: S = max(0, S + value - reference), with a signal where S >= h. After a signal it runs on, so that the
 * reader sees for how long. With expected counts that change from period to period give `reference` per period (the
 * reference value of a mean of 1 times the expected count). Source: Page, Biometrika 41 (1954) 100-115; Lucas (1985).
 */
export function upperCumulativeSum(
  values: readonly number[],
  reference: number | readonly number[],
  h = Number.POSITIVE_INFINITY,
): CumulativeSumStep[] {
  let sum = 0;
  return values.map((value, i) => {
    sum = Math.max(0, sum + value - (typeof reference === "number" ? reference : (reference[i] ?? 0)));
    return { sum, signals: sum >= h };
  });
}

/** Steps of the sum per unit tried, so that reference and h fall on whole steps. */
const MOST_STEPS_PER_UNIT = 1000;
/** Counts above mean + 12 standard deviations + 30 have no probability worth adding. */
const DEVIATIONS = 12;

/**
 * Average number of periods until the sum signals, from a start at 0, if counts are Poisson with this mean: the time to a
 * false alarm at the good rate, the delay at the bad one.
 *
 * The sum is a Markov chain on multiples of 1/m; run length by solving (I - P) x = 1. Exact where reference and h are
 * multiples of 1/m for some m up to 1000, else a RangeError (round them, as one would for the chart).
 * Source: Brook & Evans, Biometrika 59 (1972) 539-549; signal rule S >= h.
 */
export function averageRunLength(mean: number, reference: number, h: number): number {
  if (!(mean > 0 && reference > 0 && h > 0)) throw new RangeError("mean, reference and h must be above 0");
  const perUnit = stepsPerUnit(reference, h);
  const states = Math.round(h * perUnit);
  const drop = Math.round(reference * perUnit);
  const largestCount = Math.ceil(mean + DEVIATIONS * Math.sqrt(mean) + 30);
  const density = Array.from({ length: largestCount + 1 }, (_, k) => poissonDensity(k, mean));
  const rows = Array.from({ length: states }, (_, i) => {
    const row = new Float64Array(states + 1);
    row[i] = 1;
    row[states] = 1;
    for (const [k, probability] of density.entries()) {
      const to = Math.max(0, i + k * perUnit - drop);
      if (to < states) row[to] = (row[to] ?? 0) - probability;
    }
    return row;
  });
  return firstUnknown(rows);
}

function stepsPerUnit(reference: number, h: number): number {
  for (let m = 1; m <= MOST_STEPS_PER_UNIT; m++) {
    const isWhole = (x: number) => Math.abs(x * m - Math.round(x * m)) < 1e-9 * m;
    if (isWhole(reference) && isWhole(h)) return m;
  }
  throw new RangeError(`reference ${reference} and h ${h} are no multiples of 1/m for m up to ${MOST_STEPS_PER_UNIT}`);
}

/** First unknown of a linear system given as rows with the right side last; diagonally dominant, so without pivoting. */
function firstUnknown(rows: readonly Float64Array[]): number {
  for (let pivot = rows.length - 1; pivot > 0; pivot--) {
    const row = rows[pivot];
    if (row === undefined) continue;
    for (let i = 0; i < pivot; i++) {
      const upper = rows[i];
      const factor = (upper?.[pivot] ?? 0) / (row[pivot] ?? 1);
      if (upper === undefined || factor === 0) continue;
      for (let j = 0; j < pivot; j++) upper[j] = (upper[j] ?? 0) - factor * (row[j] ?? 0);
      upper[rows.length] = (upper[rows.length] ?? 0) - factor * (row[rows.length] ?? 0);
    }
  }
  return (rows[0]?.[rows.length] ?? 0) / (rows[0]?.[0] ?? 1);
}
