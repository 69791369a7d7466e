/** One row of the anchoring: counted charge, charge read from the voltage, and how far each may be trusted. */
export interface AnchorSeries {
  /** Counted charge, Ah. */
  readonly countedAh: Float64Array;
  /** Charge by inverting the open-circuit curve, %. */
  readonly invertedPercent: Float64Array;
  /** Variance of the inverted value, %². */
  readonly invertedVariance: Float64Array;
  /** The same without regard to how many neighbouring rows share one error: what the curve itself may be off by. */
  readonly curveVariance: Float64Array;
  /** Variance of the counted step to this row from the one before, Ah². */
  readonly stepVarianceAh: Float64Array;
}

export interface AnchoredCharge {
  readonly percent: Float64Array;
  readonly percentPerAh: number;
  readonly percentPerAhError: number;
}

/**
 * Charge in % that follows the counter from row to row and the voltage in the long run.
 *
 * Local-level model: inverted_i = percentPerAh · counted_i + bias_i + noise, the bias a random walk with the variance of
 * the counted steps. Kalman filter over both series gives percentPerAh by generalised least squares (with a normal
 * prior), the Rauch-Tung-Striebel smoother gives the bias. Textbook state-space method (Durbin and Koopman, Time Series
 * Analysis by State Space Methods, ch. 2 and 6; from memory).
 */
export function anchorCharge(series: AnchorSeries, nominal: number, nominalSd: number): AnchoredCharge {
  const { countedAh, invertedPercent, invertedVariance, stepVarianceAh } = series;
  const rows = countedAh.length;
  const level = { y: 0, x: 0 };
  let variance = wideVariance;
  let information = 1 / nominalSd ** 2;
  let moment = 0;
  const filteredY = new Float64Array(rows);
  const filteredX = new Float64Array(rows);
  const filteredVariance = new Float64Array(rows);
  for (let row = 0; row < rows; row += 1) {
    variance += (stepVarianceAh[row] ?? 0) * nominal ** 2;
    const noise = invertedVariance[row] ?? wideVariance;
    const total = variance + noise;
    const ah = countedAh[row] ?? 0;
    const innovationY = (invertedPercent[row] ?? 0) - nominal * ah - level.y;
    const innovationX = ah - level.x;
    if (row > 0) {
      moment += (innovationY * innovationX) / total;
      information += innovationX ** 2 / total;
    }
    const gain = variance / total;
    level.y += gain * innovationY;
    level.x += gain * innovationX;
    variance *= 1 - gain;
    filteredY[row] = level.y;
    filteredX[row] = level.x;
    filteredVariance[row] = variance;
  }
  // A curve's error repeats each time the pack passes the same charge: many passes know no more than one does.
  const told = information - 1 / nominalSd ** 2;
  const most = informationOfOnePass(countedAh, series.curveVariance);
  if (told > most) {
    moment *= most / told;
    information += most - told;
  }
  const change = moment / information;
  const percentPerAh = nominal + change;
  const percent = new Float64Array(rows);
  let bias = 0;
  for (let row = rows - 1; row >= 0; row -= 1) {
    const own = (filteredY[row] ?? 0) - change * (filteredX[row] ?? 0);
    if (row === rows - 1) bias = own;
    else {
      const mine = filteredVariance[row] ?? 0;
      const next = mine + (stepVarianceAh[row + 1] ?? 0) * nominal ** 2;
      bias = own + (next > 0 ? mine / next : 0) * (bias - own);
    }
    percent[row] = bias + percentPerAh * (countedAh[row] ?? 0);
  }
  return { percent, percentPerAh, percentPerAhError: 1 / Math.sqrt(information) };
}

/** Bins of charge over which a curve's error is taken as one and the same. Engineering default. */
const curveBins = 12;

/** What one reading per bin of charge, the best of each, would tell of % per Ah: Σ (q - mean)² / variance. */
function informationOfOnePass(countedAh: Float64Array, variance: Float64Array): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const ah of countedAh) {
    low = Math.min(low, ah);
    high = Math.max(high, ah);
  }
  if (!(high > low)) return 0;
  const best = new Float64Array(curveBins).fill(Number.POSITIVE_INFINITY);
  for (const [row, ah] of countedAh.entries()) {
    const bin = Math.min(curveBins - 1, Math.floor((curveBins * (ah - low)) / (high - low)));
    best[bin] = Math.min(best[bin] ?? wideVariance, variance[row] ?? wideVariance);
  }
  const weights = best.map((one) => 1 / one);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const mid = (bin: number) => low + ((bin + 0.5) * (high - low)) / curveBins;
  const mean = weights.reduce((sum, weight, bin) => sum + weight * mid(bin), 0) / total;
  return weights.reduce((sum, weight, bin) => sum + weight * (mid(bin) - mean) ** 2, 0);
}

/** %². Nothing is known of the charge before the first row. */
const wideVariance = 1e6;
