/** Value and slopes of a function of several variables at one point. */
export interface Slopes {
  readonly value: number;
  readonly gradient: readonly number[];
}

export interface Summit {
  readonly at: readonly number[];
  readonly value: number;
  /** Inverse of minus the matrix of second derivatives: the large-sample covariance where `value` is a log likelihood. */
  readonly covariance: readonly (readonly number[])[];
}

const MOST_STEPS = 200;
/** Step of the differences of slopes that stand for second derivatives, for variables of the order of 1. */
const DIFFERENCE = 1e-5;
/** Slopes, relative to the value, from which the last steps are taken; and those still taken where no step rises. */
const GRADIENT_GOAL = 1e-7;
const ROUGH_GOAL = 1e-5;

/**
 * Nearest summit of a smooth function, or null where none is reached (it rises without end, or the data do not bend it).
 *
 * Newton's method with second derivatives from central differences of the slopes; where they do not curve downwards a
 * ridge is added until they do (Levenberg), and steps are halved until the value rises.
 * `isLost` gives up where a search has left what makes sense. Variables should be of the order of 1: take logarithms. Source: Nocedal & Wright, Numerical Optimization (2006), section 3.4.
 */
export function newtonMaximum(
  f: (x: readonly number[]) => Slopes,
  start: readonly number[],
  isLost: (x: readonly number[]) => boolean = () => false,
): Summit | null {
  let at: readonly number[] = start;
  let here = f(at);
  for (let step = 0; step < MOST_STEPS; step++) {
    if (!Number.isFinite(here.value) || isLost(at)) return null;
    const size = 1 + Math.abs(here.value);
    if (steepness(here) <= GRADIENT_GOAL * size) return polished(f, at);
    const next = rising(f, at, here, minusSecondDerivatives(f, at));
    if (next === null) return steepness(here) <= ROUGH_GOAL * size ? polished(f, at) : null;
    [at, here] = [next.at, next.slopes];
  }
  return null;
}

function steepness({ gradient }: Slopes): number {
  return Math.max(...gradient.map(Math.abs));
}

/** Last steps by the slopes alone: so near the summit the value itself no longer changes in its last digit. */
function polished(f: (x: readonly number[]) => Slopes, near: readonly number[]): Summit | null {
  let at = near;
  let covariance = inverse(minusSecondDerivatives(f, at));
  if (covariance === null) return null;
  let here = f(at);
  for (let step = 0; step < 20; step++) {
    const next = at.map((x, i) => x + product(covariance?.[i] ?? [], here.gradient));
    const there = f(next);
    if (!(steepness(there) < steepness(here))) break;
    [at, here] = [next, there];
  }
  covariance = inverse(minusSecondDerivatives(f, at));
  return covariance === null ? null : { at, value: here.value, covariance };
}

function product(row: readonly number[], vector: readonly number[]): number {
  return row.reduce((sum, c, j) => sum + c * (vector[j] ?? 0), 0);
}

function rising(f: (x: readonly number[]) => Slopes, at: readonly number[], here: Slopes, curvature: number[][]) {
  const scale = Math.max(1e-12, ...curvature.map((row, i) => Math.abs(row[i] ?? 0)));
  for (let ridge = 0; ridge < 1e6 * scale; ridge = ridge === 0 ? 1e-4 * scale : ridge * 10) {
    const inverted = inverse(curvature.map((row, i) => row.map((c, j) => (i === j ? c + ridge : c))));
    if (inverted === null) continue;
    const direction = inverted.map((row) => product(row, here.gradient));
    for (let length = 1; length > 1e-6; length /= 2) {
      const next = at.map((x, i) => x + length * (direction[i] ?? 0));
      const slopes = f(next);
      if (slopes.value > here.value) return { at: next, slopes };
    }
    if (steepness(here) <= ROUGH_GOAL * (1 + Math.abs(here.value))) return null;
  }
  return null;
}

function minusSecondDerivatives(f: (x: readonly number[]) => Slopes, at: readonly number[]): number[][] {
  const columns = at.map((x, i) => {
    const h = DIFFERENCE * Math.max(1, Math.abs(x));
    const higher = f(at.map((y, j) => (i === j ? y + h : y))).gradient;
    const lower = f(at.map((y, j) => (i === j ? y - h : y))).gradient;
    return higher.map((slope, j) => ((lower[j] ?? 0) - slope) / (2 * h));
  });
  return columns.map((column, i) => column.map((c, j) => (c + (columns[j]?.[i] ?? 0)) / 2));
}

/** Of a symmetric positive definite matrix, by Gauss and Jordan; null where it is not one. */
export function inverse(matrix: readonly (readonly number[])[]): number[][] | null {
  const size = matrix.length;
  const work = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (const [i, pivotRow] of work.entries()) {
    const pivot = pivotRow[i] ?? 0;
    if (!(pivot > 0 && Number.isFinite(pivot))) return null;
    for (const [j, value] of pivotRow.entries()) pivotRow[j] = value / pivot;
    for (const [k, row] of work.entries()) {
      const factor = row[i] ?? 0;
      if (k !== i) for (const [j, value] of pivotRow.entries()) row[j] = (row[j] ?? 0) - factor * value;
    }
  }
  return work.map((row) => row.slice(size));
}
