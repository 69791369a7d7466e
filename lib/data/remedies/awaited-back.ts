import "server-only";
import { type ComesBackOrder, readComesBackOrder } from "@/lib/returns/comes-back";
import type { CalendarDate } from "@/lib/warranty/calendar";
import type { Prisma } from "@/prisma/generated/client";
import { fromOptionalDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";
import { readJoinedReturns } from "../returns/joined-returns";

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

const rowSelect = {
  id: true,
  order: true,
  dueOn: true,
  why: true,
  orderedAt: true,
  orderedByUserId: true,
  orderedByName: true,
} as const satisfies Prisma.OldPackOrderSelect;

function readRow(row: Prisma.OldPackOrderGetPayload<{ select: typeof rowSelect }>): ComesBackRow {
  return { ...row, order: readComesBackOrder(row.order), dueOn: fromOptionalDateColumn(row.dueOn) };
}

/** Over the returns of one complaint. */
async function ordersOf(tx: Transaction, returnId: string) {
  return { returnId: { in: await readJoinedReturns(tx, returnId) }, about: "given-before" };
}

/** How many times somebody said what comes back: whoever acts on it has seen the last. */
export async function countComesBack(tx: Transaction, returnId: string): Promise<number> {
  return tx.oldPackOrder.count({ where: await ordersOf(tx, returnId) });
}

/** All that was said of it, oldest first. */
export async function listComesBack(tx: Transaction, returnId: string): Promise<readonly ComesBackRow[]> {
  const rows = await tx.oldPackOrder.findMany({
    where: await ordersOf(tx, returnId),
    select: rowSelect,
    orderBy: [{ orderedAt: "asc" }, { id: "asc" }],
  });
  return rows.map(readRow);
}

/** Null where nothing was ever said of it. */
export async function readComesBack(tx: Transaction, returnId: string): Promise<ComesBackRow | null> {
  const last = await tx.oldPackOrder.findFirst({
    where: await ordersOf(tx, returnId),
    select: rowSelect,
    orderBy: [{ orderedAt: "desc" }, { id: "desc" }],
  });
  return last === null ? null : readRow(last);
}

/** What the customer of a return is still to give back; null where nothing is awaited. */
export async function readAwaitedBack(tx: Transaction, returnId: string): Promise<ComesBackRow | null> {
  const last = await readComesBack(tx, returnId);
  return last?.order === "comes-back" ? last : null;
}
