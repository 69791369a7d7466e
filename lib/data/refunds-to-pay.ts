import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { decidedStatuses } from "@/lib/returns/return-status";
import { sayMoney } from "@/lib/settlement/money";
import { asActor } from "./database";

export interface RefundToPay {
  readonly reference: string;
  readonly dealerName: string;
  /** Null where no amount was decided. */
  readonly amount: string | null;
  readonly decidedAt: Date;
}

/** Longer lists are worked off from the top. */
const LIST_LIMIT = 100;

/** Refunds agreed with the customer under a decision that stands and not paid yet, the oldest first. Null where the person may not ask. */
export async function listRefundsToPay(actor: Actor): Promise<RefundToPay[] | null> {
  if (!may(actor, "check-money")) return null;
  const rows = await asActor(actor, (tx) =>
    tx.return.findMany({
      where: {
        tracks: { some: { track: "remedy", state: "refund-agreed" } },
        decision: { remedy: "refund" },
        status: { in: [...decidedStatuses] },
      },
      select: {
        reference: true,
        dealer: { select: { name: true } },
        decision: { select: { refundMinor: true, refundCurrency: true, decidedAt: true } },
      },
      orderBy: { decision: { decidedAt: "asc" } },
      take: LIST_LIMIT,
    }),
  );
  return rows.flatMap(({ reference, dealer, decision }) => {
    if (decision === null) return [];
    const { refundMinor, refundCurrency, decidedAt } = decision;
    const amount = refundMinor === null || refundCurrency === null ? null : sayMoney(refundMinor, refundCurrency);
    return [{ reference, dealerName: dealer.name, amount, decidedAt }];
  });
}
