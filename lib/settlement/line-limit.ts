/** The dated limit of the settings of returns, as far as lines of money depend on it. */
export interface LineLimit {
  /** In the smallest unit of `refundLimitCurrency`; older versions say nothing of lines, and the limit of a refund holds. */
  readonly lineLimitMinor?: number | undefined;
  /** The same over a day; older versions say nothing of it. */
  readonly dayLimitMinor?: number | undefined;
  readonly refundLimitMinor: number;
  readonly refundLimitCurrency: string;
}

export function lineLimitOf({ lineLimitMinor, refundLimitMinor }: LineLimit): number {
  return lineLimitMinor ?? refundLimitMinor;
}

/** Times the limit of a line, where a version says nothing of a day. Engineering default, no authority. */
const LINES_A_DAY = 5;

/** What one person passes alone within a day at the most, over all returns. */
export function dayLimitOf(limit: LineLimit): number {
  return limit.dayLimitMinor ?? LINES_A_DAY * lineLimitOf(limit);
}

/** What one person both checked and approved, in the currency of a line and in its smallest unit, each line without its sign. */
export interface PassedAlone {
  readonly ofReturnMinor: number;
  /** Of all returns, in the 24 hours before. */
  readonly ofDayMinor: number;
}

/**
 * Whether a line is more than one person of the house passes: whoever checked it does not approve it. So is one that comes above
 * the limit together with what that person passed alone of the same return before (each without sign, same currency), or many
 * small lines would pass where a large one does not; so is one above the limit of a day with what that person passed alone of all
 * returns in 24 hours; and one in another currency than the limit, as with refunds. A reversal
 * counts by what it takes back. Common practice, no source.
 */
export function isAboveLineLimit(
  { amountMinor, currency }: { readonly amountMinor: number; readonly currency: string },
  limit: LineLimit,
  { ofReturnMinor, ofDayMinor }: PassedAlone,
): boolean {
  const amount = Math.abs(amountMinor);
  if (currency !== limit.refundLimitCurrency) return true;
  return amount + ofReturnMinor > lineLimitOf(limit) || amount + ofDayMinor > dayLimitOf(limit);
}
