/** Money that went back to a customer under one complaint, in the smallest unit of its currency. */
export interface PaidRefund {
  readonly minor: number;
  readonly currency: string;
}

/** What is still to be paid of a decided refund. */
export type RefundOwed =
  | { readonly kind: "owed"; readonly minor: number; readonly currency: string; readonly paidMinor: number }
  /** What was paid before cannot be taken from it: it was paid in another currency, and no rate belongs to it. */
  | { readonly kind: "other-currency"; readonly paid: PaidRefund };

/**
 * A decided refund is the whole amount of its complaint: what was paid under an earlier decision, or under a return that
 * goes on in this one, is part of it. Where more was paid than is decided now, nothing is owed. Rule of this house.
 */
export function refundOwed(decided: PaidRefund, paid: readonly PaidRefund[]): RefundOwed {
  const other = paid.find(({ currency, minor }) => minor > 0 && currency !== decided.currency);
  if (other !== undefined) return { kind: "other-currency", paid: other };
  const paidMinor = paid.reduce((sum, { minor }) => sum + minor, 0);
  return { kind: "owed", minor: Math.max(0, decided.minor - paidMinor), currency: decided.currency, paidMinor };
}
