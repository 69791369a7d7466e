export interface Correlation {
  readonly pairs: number;
  /** Pearson's r, or 0 where either side does not vary. */
  readonly r: number;
  /** Least-squares slope of y on x, or 0 where x does not vary. */
  readonly slope: number;
}

/** Pearson correlation and slope over pairs fed one at a time; pairs with a missing value are passed over (Welford's updating). */
export function createCorrelation() {
  let pairs = 0;
  let meanX = 0;
  let meanY = 0;
  let sxx = 0;
  let syy = 0;
  let sxy = 0;
  return {
    add(x: number, y: number): void {
      if (!Number.isFinite(x) || !Number.isFinite(y)) return;
      pairs++;
      const dx = x - meanX;
      meanX += dx / pairs;
      const dy = y - meanY;
      meanY += dy / pairs;
      sxx += dx * (x - meanX);
      syy += dy * (y - meanY);
      sxy += dx * (y - meanY);
    },
    result(): Correlation {
      const spread = Math.sqrt(sxx) * Math.sqrt(syy);
      return { pairs, r: spread > 0 ? sxy / spread : 0, slope: sxx > 0 ? sxy / sxx : 0 };
    },
  };
}
