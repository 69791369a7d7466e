import type { LineState } from "./line-moves";

/** Lines of one currency that stand alike, added up. */
export interface StateSum {
  readonly currency: string;
  readonly amountMinor: number;
  readonly state: LineState;
  readonly lines: number;
}

/** What stands between maker and dealer in one currency, all in its smallest unit. */
export interface Balance {
  readonly currency: string;
  /** Claimed or checked: not yet owed. */
  readonly openMinor: number;
  /** Approved or in a statement: owed and not yet paid. */
  readonly owedMinor: number;
  readonly paidMinor: number;
  readonly lines: number;
}

/** The balance per currency: amounts of different currencies are never added. Refused lines count for nothing. */
export function balances(sums: readonly StateSum[]): Balance[] {
  const byCurrency = new Map<string, Balance>();
  for (const { currency, amountMinor, state, lines } of sums) {
    const sum = byCurrency.get(currency) ?? { currency, openMinor: 0, owedMinor: 0, paidMinor: 0, lines: 0 };
    const isOpen = state === "claimed" || state === "checked";
    const isOwed = state === "approved" || state === "in-statement";
    byCurrency.set(currency, {
      currency,
      openMinor: sum.openMinor + (isOpen ? amountMinor : 0),
      owedMinor: sum.owedMinor + (isOwed ? amountMinor : 0),
      paidMinor: sum.paidMinor + (state === "paid" ? amountMinor : 0),
      lines: sum.lines + (state === "refused" ? 0 : lines),
    });
  }
  return [...byCurrency.values()].sort((one, other) => (one.currency < other.currency ? -1 : 1));
}
