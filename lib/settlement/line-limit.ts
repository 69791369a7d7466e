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
 * Whether a line is more than one person of the house passes: whoever checked it does not approve it. So is one that comes above
 * the limit together with what that person passed alone of the same return before (each without sign, same currency), or many
 * small lines would pass where a large one does not; and one in another currency than the limit, as with refunds. A reversal
 * counts by what it takes back. Common practice, no source.
 */
export function isAboveLineLimit(
  { amountMinor, currency }: { readonly amountMinor: number; readonly currency: string },
  limit: LineLimit,
  passedAloneMinor: number,
): boolean {
  const together = Math.abs(amountMinor) + passedAloneMinor;
  return together > lineLimitOf(limit) || currency !== limit.refundLimitCurrency;
}
