import "server-only";
import { type ComesBackOrder, readComesBackOrder } from "@/lib/returns/comes-back";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { fromOptionalDateColumn } from "./calendar-columns";
import type { Transaction } from "./database";
import { readJoinedReturns } from "./joined-returns";

/** What was said last of what the customer gives back. */
export interface ComesBackRow {
  readonly id: string;
  readonly order: ComesBackOrder;
  /** Null where nothing more is awaited. */
  readonly dueOn: CalendarDate | null;
  readonly why: string;
  readonly orderedAt: Date;
  readonly orderedByUserId: string;
  readonly orderedByName: string;
}

/** Over the returns of one complaint; null where nothing was ever said of it. */
export async function readComesBack(tx: Transaction, returnId: string): Promise<ComesBackRow | null> {
  const last = await tx.oldPackOrder.findFirst({
    where: { returnId: { in: await readJoinedReturns(tx, returnId) }, about: "given-before" },
    select: {
      id: true,
      order: true,
      dueOn: true,
      why: true,
      orderedAt: true,
      orderedByUserId: true,
      orderedByName: true,
    },
    orderBy: [{ orderedAt: "desc" }, { id: "desc" }],
  });
  if (last === null) return null;
  return { ...last, order: readComesBackOrder(last.order), dueOn: fromOptionalDateColumn(last.dueOn) };
}

/** What the customer of a return is still to give back; null where nothing is awaited. */
export async function readAwaitedBack(tx: Transaction, returnId: string): Promise<ComesBackRow | null> {
  const last = await readComesBack(tx, returnId);
  return last?.order === "comes-back" ? last : null;
}
