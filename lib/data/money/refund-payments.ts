import "server-only";
import { z } from "zod";
import { type PaidRefund, type RefundOwed, refundOwed } from "@/lib/returns/refund-owed";
import type { Transaction } from "../database";
import { readJoinedReturns } from "../returns/joined-returns";

export interface RefundPayment extends PaidRefund {
  readonly at: Date;
}

/** What is kept with the step that says a refund was paid. */
const paidFacts = z.object({ paidMinor: z.int().min(0), paidCurrency: z.string().length(3) });

/**
 * What went back to the customer under this complaint, the oldest first. A payment of before amounts were kept with it was
 * of the whole refund decided last before it.
 */
export async function readRefundsPaid(tx: Transaction, returnId: string): Promise<RefundPayment[]> {
  const returnIds = await readJoinedReturns(tx, returnId);
  const steps = await tx.trackMove.findMany({
    where: { track: { returnId: { in: returnIds }, track: "remedy" }, to: "refund-paid" },
    select: { at: true, facts: true, track: { select: { returnId: true } } },
    orderBy: { at: "asc" },
  });
  if (steps.length === 0) return [];
  const decisions = await tx.decision.findMany({
    where: { returnId: { in: returnIds }, remedy: "refund" },
    select: { returnId: true, refundMinor: true, refundCurrency: true, decidedAt: true },
    orderBy: { decidedAt: "desc" },
  });
  return steps.flatMap(({ at, facts, track }) => {
    const kept = paidFacts.safeParse(facts);
    if (kept.success) return [{ minor: kept.data.paidMinor, currency: kept.data.paidCurrency, at }];
    const decided = decisions.find(({ returnId: of, decidedAt }) => of === track.returnId && decidedAt <= at);
    const { refundMinor = null, refundCurrency = null } = decided ?? {};
    return refundMinor === null || refundCurrency === null
      ? []
      : [{ minor: refundMinor, currency: refundCurrency, at }];
  });
}

/** What is still to be paid of the refund that is decided; null where none is. */
export async function readRefundOwed(
  tx: Transaction,
  returnId: string,
  decision: { readonly refundMinor: number | null; readonly refundCurrency: string | null } | null,
): Promise<RefundOwed | null> {
  if (decision === null) return null;
  const { refundMinor: minor, refundCurrency: currency } = decision;
  return minor === null || currency === null
    ? null
    : refundOwed({ minor, currency }, await readRefundsPaid(tx, returnId));
}
