/** One group as a dot: its value with limits, and what it is set beside. */
export interface GroupDot {
  readonly group: number;
  readonly value: number;
  /** 95 % limits; null where no uncertainty can be stated. */
  readonly limits: readonly [number, number] | null;
  readonly beside: number | null;
  readonly isMarked: boolean;
}

/** 0.975 quantile of the normal distribution (NIST/SEMATECH e-Handbook 1.3.6.7.1). */
const NORMAL_975 = 1.959963984540054;

/** Value ± 1.96 standard uncertainties; null without one. */
export function normal95(value: number, standardError: number | null): readonly [number, number] | null {
  if (standardError === null || !Number.isFinite(standardError)) return null;
  return [value - NORMAL_975 * standardError, value + NORMAL_975 * standardError];
}
