import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { RefundOwed } from "@/lib/returns/refund-owed";
import { decidedStatuses } from "@/lib/returns/return-status";
import { sayMoney } from "@/lib/settlement/money";
import { asActor } from "./database";
import { readRefundOwed } from "./refund-payments";

export interface RefundToPay {
  readonly reference: string;
  readonly dealerName: string;
  /** What is still to be paid of the refund that was decided; null where that cannot be told. */
  readonly amount: string | null;
  /** What the customer has had of it; null where nothing was paid before. */
  readonly paidBefore: string | null;
  readonly decidedAt: Date;
}

/** Longer lists are worked off from the top. */
const LIST_LIMIT = 100;

/** Refunds agreed with the customer under a decision that stands and not paid yet, the oldest first. Null where the person may not ask. */
export async function listRefundsToPay(actor: Actor): Promise<RefundToPay[] | null> {
  if (!may(actor, "check-money")) return null;
  return asActor(actor, async (tx) => {
    const rows = await tx.return.findMany({
      where: {
        tracks: { some: { track: "remedy", state: "refund-agreed" } },
        decision: { remedy: "refund" },
        status: { in: [...decidedStatuses] },
      },
      select: {
        id: true,
        reference: true,
        dealer: { select: { name: true } },
        decision: { select: { refundMinor: true, refundCurrency: true, decidedAt: true } },
      },
      orderBy: { decision: { decidedAt: "asc" } },
      take: LIST_LIMIT,
    });
    const list: RefundToPay[] = [];
    for (const { id, reference, dealer, decision } of rows) {
      if (decision === null) continue;
      const owed = await readRefundOwed(tx, id, decision);
      list.push({ reference, dealerName: dealer.name, decidedAt: decision.decidedAt, ...sayOwed(owed) });
    }
    return list;
  });
}

function sayOwed(owed: RefundOwed | null): Pick<RefundToPay, "amount" | "paidBefore"> {
  if (owed === null) return { amount: null, paidBefore: null };
  if (owed.kind === "other-currency")
    return { amount: null, paidBefore: sayMoney(owed.paid.minor, owed.paid.currency) };
  const { minor, paidMinor, currency } = owed;
  return { amount: sayMoney(minor, currency), paidBefore: paidMinor === 0 ? null : sayMoney(paidMinor, currency) };
}
