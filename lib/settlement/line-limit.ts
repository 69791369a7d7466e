/** The dated limit of the settings of returns, as far as lines of money depend on it. */
export interface LineLimit {
  /** In the smallest unit of `refundLimitCurrency`; older versions say nothing of lines, and the limit of a refund holds. */
  readonly lineLimitMinor?: number | undefined;
  readonly refundLimitMinor: number;
  readonly refundLimitCurrency: string;
}

export function lineLimitOf({ lineLimitMinor, refundLimitMinor }: LineLimit): number {
  return lineLimitMinor ?? refundLimitMinor;
}

/**
 * Whether a line is more than one person of the house passes: whoever checked it does not approve it. So is one in another
 * currency than the limit, as with refunds. A reversal counts by what it takes back. Common practice, no source.
 */
export function isAboveLineLimit(
  { amountMinor, currency }: { readonly amountMinor: number; readonly currency: string },
  limit: LineLimit,
): boolean {
  return Math.abs(amountMinor) > lineLimitOf(limit) || currency !== limit.refundLimitCurrency;
}
