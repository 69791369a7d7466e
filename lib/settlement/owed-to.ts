/** Money approved for a dealer and not paid yet: a line of its own, or the sum of a statement. A reversal is below nothing. */
export interface OwedItem {
  readonly dealerName: string;
  readonly currency: string;
  readonly amountMinor: number;
}

export type OwedToDealer = OwedItem;

/** What is owed to each dealer, a line for each currency, the largest first within a currency; different ones are never added. */
export function owedToDealers(items: readonly OwedItem[]): OwedToDealer[] {
  const sums = new Map<string, OwedToDealer>();
  for (const { dealerName, currency, amountMinor } of items) {
    const key = `${currency} ${dealerName}`;
    sums.set(key, { dealerName, currency, amountMinor: (sums.get(key)?.amountMinor ?? 0) + amountMinor });
  }
  return [...sums.values()]
    .filter(({ amountMinor }) => amountMinor !== 0)
    .sort((a, b) => a.currency.localeCompare(b.currency) || b.amountMinor - a.amountMinor);
}
