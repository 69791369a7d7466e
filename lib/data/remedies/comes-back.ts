import "server-only";
import type { Actor, Mover } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { ComesBackOrder } from "@/lib/returns/comes-back";
import type { ComesBackOrderForm } from "@/lib/returns/comes-back.schema";
import type { Decision } from "@/lib/returns/decision.schema";
import { endOfDay } from "@/lib/returns/local-instant";
import { undecidedStatuses } from "@/lib/returns/return-status";
import { whoseTurn } from "@/lib/returns/return-turn";
import { type CalendarDate, calendarDate, isCalendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { toOptionalDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import { shownSerial } from "../packs/pack-words";
import { loadStanding } from "../returns/return-standing";
import { lockPack } from "../returns/track-rows";
import { type ComesBackRow, countComesBack, readAwaitedBack, readComesBack } from "./awaited-back";
import { type OrderAnswer, refuseOrder, refuseStaleOrder } from "./order-answer";

/** What the customer of a return gives back of what was given before, for the bench, finance and the dealer. */
export interface ComesBackPage {
  readonly last: ComesBackRow;
  readonly isOverdue: boolean;
  /** The pack that was handed over under this complaint; null where none was. */
  readonly unitShown: string | null;
  /** What this person may record of it now; nothing where nothing is awaited. */
  readonly orders: readonly ComesBackOrder[];
  /** How many times somebody said what comes back. */
  readonly seenOrders: number;
}

/** Null where nothing was ever to come back, or the return is not this person's. */
export function readComesBackPage(actor: Actor, reference: string, now = new Date()): Promise<ComesBackPage | null> {
  return asActor(actor, async (tx) => {
    const loaded = await loadStanding(tx, reference, now);
    const last = loaded === null ? null : await readComesBack(tx, loaded.row.id);
    if (loaded === null || last === null) return null;
    const { unitGiven } = loaded.standing.known;
    return {
      last,
      isOverdue: last.dueOn !== null && last.dueOn < civilDateAt(now, loaded.row.dealer.timeZone),
      unitShown: unitGiven === null ? null : shownSerial(unitGiven),
      orders: last.order === "comes-back" ? ordersOf(actor, last) : [],
      seenOrders: await countComesBack(tx, loaded.row.id),
    };
  });
}

/** Two people agreed that it comes back: that nothing does any more is a manager's word, and not of whoever said it last. */
function ordersOf(actor: Actor, { orderedByUserId }: ComesBackRow): ComesBackOrder[] {
  const orders: ComesBackOrder[] = [];
  if (may(actor, "receive-pack") || may(actor, "state-nothing-owed")) orders.push("is-back");
  if (may(actor, "approve-return")) orders.push("comes-back");
  if (may(actor, "approve-as-second") && actor.userId !== orderedByUserId) orders.push("nothing-comes-back");
  return orders;
}

const saidMeanwhile = refuseStaleOrder(
  "Somebody recorded something of it while you had it open. Look at it as it is now.",
);

/**
 * Records that it is back, another day for it, or that nothing is awaited any more; the dealer is told of a new day. `seenOrders` is
 * how many times something was said of it when the page was opened.
 */
export function orderComesBack(
  actor: Actor,
  reference: string,
  { order, dueOn, why }: ComesBackOrderForm,
  seenOrders: number,
  now = new Date(),
): Promise<OrderAnswer> {
  return asActor(actor, async (tx) => {
    const found = await tx.return.findUnique({ where: { reference }, select: { packId: true } });
    if (found === null) return refuseOrder("order", "There is no such return for you.");
    await lockPack(tx, found.packId);
    const loaded = await loadStanding(tx, reference, now);
    if (loaded !== null && (await countComesBack(tx, loaded.row.id)) !== seenOrders) return saidMeanwhile;
    const last = loaded === null ? null : await readAwaitedBack(tx, loaded.row.id);
    if (loaded === null || last === null)
      return refuseOrder("order", "Nothing is awaited back on this return. Reload the page.");
    if (!ordersOf(actor, last).includes(order))
      return refuseOrder(
        "order",
        "Somebody else has to record this: that nothing comes back any more is a manager's word.",
      );
    const { row } = loaded;
    const zone = row.dealer.timeZone;
    const day = dueOn === null ? null : calendarDate(dueOn);
    if (day !== null && day < civilDateAt(now, zone))
      return refuseOrder("dueOn", "This day is over already. Give a later one.");
    await writeOrder(tx, actor, { returnId: row.id, reference, dealerId: row.dealerId, order, dueOn: day, why }, now);
    if (row.status === "handed-back") {
      const data = day === null ? { turn: whoseTurn("handed-back"), dueAt: null } : awaitingColumns(day, zone);
      await tx.return.updateMany({ where: { id: row.id, status: "handed-back" }, data });
    }
    return { ok: true };
  });
}

/** Writes what a decision says of it, in the transaction of the decision. */
export async function orderWithDecision(
  tx: Transaction,
  actor: Mover,
  { id: returnId, reference, dealerId }: { readonly id: string; readonly reference: string; readonly dealerId: string },
  { comesBackWhat: order, comesBack: why, comesBackBy }: Decision,
  now: Date,
): Promise<void> {
  if (order === undefined || why === undefined) return;
  await writeOrder(tx, actor, { returnId, reference, dealerId, order, dueOn: dayOf(comesBackBy), why }, now);
}

/** The day of a decision by which it is to be back; null where it names none. */
export function dayOf(text: string | undefined): CalendarDate | null {
  return text !== undefined && isCalendarDate(text) ? text : null;
}

interface Ordered {
  readonly returnId: string;
  readonly reference: string;
  readonly dealerId: string;
  readonly order: ComesBackOrder;
  readonly dueOn: CalendarDate | null;
  readonly why: string;
}

async function writeOrder(
  tx: Transaction,
  actor: Mover,
  { reference, dealerId, dueOn, ...row }: Ordered,
  now: Date,
): Promise<void> {
  const { id } = await tx.oldPackOrder.create({
    data: {
      ...row,
      about: "given-before",
      dueOn: toOptionalDateColumn(dueOn),
      orderedAt: now,
      orderedByUserId: actor.userId,
      orderedByName: actor.name,
    },
    select: { id: true },
  });
  if (dueOn === null) return;
  const { returnId } = row;
  await queueNotice(tx, { kind: "comes-back", reference, returnId, occasion: id, until: dueOn, to: { dealerId } });
}

/** Handed back, a return with something still to come waits for the dealer, until the end of its day there. */
export function awaitingColumns(dueOn: CalendarDate, zone: string) {
  return { turn: "dealer", dueAt: endOfDay(dueOn, zone) };
}

/**
 * Tells the dealer, once for each day that was set, that what was to come back by it is not back. While the decision that asked
 * for it is looked at anew nobody is told: the next decision says it again, or not.
 */
export async function remindOfWhatIsAwaited(tx: Transaction, now: Date): Promise<number> {
  const over = await tx.oldPackOrder.findMany({
    where: { about: "given-before", order: "comes-back", dueOn: { lt: now } },
    select: { id: true, returnId: true },
  });
  let told = 0;
  for (const { id, returnId } of over) {
    const awaited = await readAwaitedBack(tx, returnId);
    if (awaited?.id !== id || awaited.dueOn === null) continue;
    const row = await tx.return.findUniqueOrThrow({
      where: { id: returnId },
      select: { reference: true, dealerId: true, status: true, dealer: { select: { timeZone: true } } },
    });
    if (undecidedStatuses.some((status) => status === row.status)) continue;
    if (awaited.dueOn >= civilDateAt(now, row.dealer.timeZone)) continue;
    const occasion = `overdue ${id}`;
    if ((await tx.notice.count({ where: { returnId, key: { contains: occasion } } })) > 0) continue;
    const { reference, dealerId } = row;
    const notice = { kind: "comes-back-overdue", reference, returnId, occasion, until: awaited.dueOn } as const;
    await queueNotice(tx, { ...notice, to: { dealerId } });
    await queueNotice(tx, { ...notice, to: { role: "service-lead" } });
    told += 1;
  }
  return told;
}
