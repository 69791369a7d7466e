/**
 * Linear least squares with independent normal priors of mean zero (ridge regression in Bayesian dress).
 *
 * Accumulates the normal equations row by row; `solve` returns the posterior mean and standard deviations. A
 * coefficient the data say nothing about comes back near zero with its prior's width: "cannot tell" in numbers.
 * Cholesky factorisation; sizes here are 2 to 6.
 */
export class PriorLeastSquares {
  private readonly size: number;
  private readonly normal: Float64Array;
  private readonly moment: Float64Array;
  private squares = 0;
  private weights = 0;

  constructor(size: number) {
    this.size = size;
    this.normal = new Float64Array(size * size);
    this.moment = new Float64Array(size);
  }

  add(predictors: ArrayLike<number>, response: number, weight: number): void {
    for (let i = 0; i < this.size; i += 1) {
      const scaled = weight * (predictors[i] ?? 0);
      this.moment[i] = (this.moment[i] ?? 0) + scaled * response;
      for (let j = 0; j <= i; j += 1) {
        const at = i * this.size + j;
        this.normal[at] = (this.normal[at] ?? 0) + scaled * (predictors[j] ?? 0);
      }
    }
    this.squares += weight * response * response;
    this.weights += weight;
  }

  /** `noise` is the standard deviation of one response, `effectiveShare` the share of rows that count as independent. */
  solve(priorSd: ArrayLike<number>, noise: number, effectiveShare: number) {
    const { size } = this;
    const precision = effectiveShare / (noise * noise);
    const factor = new Float64Array(size * size);
    for (let i = 0; i < size; i += 1) {
      for (let j = 0; j <= i; j += 1) {
        let sum = (this.normal[i * size + j] ?? 0) * precision + (i === j ? 1 / (priorSd[i] ?? 1) ** 2 : 0);
        for (let k = 0; k < j; k += 1) sum -= (factor[i * size + k] ?? 0) * (factor[j * size + k] ?? 0);
        factor[i * size + j] = i === j ? Math.sqrt(Math.max(sum, Number.MIN_VALUE)) : sum / (factor[j * size + j] ?? 1);
      }
    }
    const moment = this.moment.map((entry) => entry * precision);
    const mean = backward(factor, forward(factor, moment, size), size);
    const sd = new Float64Array(size);
    for (let i = 0; i < size; i += 1) {
      const unit = new Float64Array(size);
      unit[i] = 1;
      sd[i] = Math.hypot(...forward(factor, unit, size));
    }
    return { mean, sd, rows: this.weights };
  }
}

function forward(factor: Float64Array, right: Float64Array, size: number): Float64Array {
  const solved = new Float64Array(size);
  for (let i = 0; i < size; i += 1) {
    let sum = right[i] ?? 0;
    for (let k = 0; k < i; k += 1) sum -= (factor[i * size + k] ?? 0) * (solved[k] ?? 0);
    solved[i] = sum / (factor[i * size + i] ?? 1);
  }
  return solved;
}

function backward(factor: Float64Array, right: Float64Array, size: number): Float64Array {
  const solved = new Float64Array(size);
  for (let i = size - 1; i >= 0; i -= 1) {
    let sum = right[i] ?? 0;
    for (let k = i + 1; k < size; k += 1) sum -= (factor[k * size + i] ?? 0) * (solved[k] ?? 0);
    solved[i] = sum / (factor[i * size + i] ?? 1);
  }
  return solved;
}
