import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { RefundOwed } from "@/lib/returns/refund-owed";
import { type DatedReturnSettings, settingsOn } from "@/lib/returns/return-settings.schema";
import { decidedStatuses } from "@/lib/returns/return-status";
import { sayMoney } from "@/lib/settlement/money";
import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Prisma } from "@/prisma/generated/client";
import { asActor } from "../database";
import { readApprovedSettings } from "../returns/return-settings";
import { readRefundOwed } from "./refund-payments";

export interface RefundToPay {
  readonly reference: string;
  readonly dealerName: string;
  /** What is still to be paid of the refund that was decided; null where that cannot be told. */
  readonly amount: string | null;
  /** What the customer has had of it; null where nothing was paid before. */
  readonly paidBefore: string | null;
  readonly decidedAt: Date;
  /** Last day on which it is paid in time, where the dealer is; null where nobody recorded when it was agreed. */
  readonly payBy: CalendarDate | null;
  readonly isOverdue: boolean;
}

/** Longer lists are worked off from the top. */
const LIST_LIMIT = 100;

const agreedSelect = {
  moves: { where: { to: "refund-agreed" }, orderBy: { sequence: "desc" }, take: 1, select: { at: true } },
} as const satisfies Prisma.TrackSelect;

/** Refunds agreed with the customer under a decision that stands and not paid yet, the oldest first. Null where the person may not ask. */
export async function listRefundsToPay(actor: Actor, now = new Date()): Promise<RefundToPay[] | null> {
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
        dealer: { select: { name: true, timeZone: true } },
        tracks: { where: { track: "remedy" }, select: agreedSelect },
        decision: { select: { refundMinor: true, refundCurrency: true, decidedAt: true } },
      },
      orderBy: { decision: { decidedAt: "asc" } },
      take: LIST_LIMIT,
    });
    const settings = await readApprovedSettings(tx);
    const list: RefundToPay[] = [];
    for (const { id, reference, dealer, decision, tracks } of rows) {
      if (decision === null) continue;
      const owed = await readRefundOwed(tx, id, decision);
      const agreedAt = tracks[0]?.moves[0]?.at ?? null;
      const payBy = agreedAt === null ? null : lastDayToPay(agreedAt, dealer.timeZone, settings);
      list.push({
        reference,
        dealerName: dealer.name,
        decidedAt: decision.decidedAt,
        payBy,
        isOverdue: payBy !== null && payBy < civilDateAt(now, dealer.timeZone),
        ...sayOwed(owed),
      });
    }
    return list;
  });
}

/** By the days that held when it was agreed: a later version takes nothing from what was said then. */
function lastDayToPay(agreedAt: Date, timeZone: string, settings: readonly DatedReturnSettings[]): CalendarDate {
  const day = civilDateAt(agreedAt, timeZone);
  return plusDays(day, settingsOn(settings, day).refundDays);
}

function sayOwed(owed: RefundOwed | null): Pick<RefundToPay, "amount" | "paidBefore"> {
  if (owed === null) return { amount: null, paidBefore: null };
  if (owed.kind === "other-currency")
    return { amount: null, paidBefore: sayMoney(owed.paid.minor, owed.paid.currency) };
  const { minor, paidMinor, currency } = owed;
  return { amount: sayMoney(minor, currency), paidBefore: paidMinor === 0 ? null : sayMoney(paidMinor, currency) };
}
