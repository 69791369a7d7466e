import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type CustodyPlace, recordPlace } from "@/lib/returns/custody-track";
import { leavesOldPack, type OldPackOrder, readOldPackOrder, whyOldPackStays } from "@/lib/returns/old-pack";
import type { OrderForOldPack } from "@/lib/returns/old-pack.schema";
import type { KnownFacts } from "@/lib/returns/return-facts";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromDateColumn, toDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import { type LoadedStanding, loadStanding } from "../returns/return-standing";
import { lockPack, recordCustody } from "../returns/track-rows";
import { readIncoming } from "../transport/incoming-sending";
import { type OrderAnswer, refuseOrder, refuseStaleOrder } from "./order-answer";

/** What was ordered for an old pack, and how it stands. */
export interface OldPackView {
  readonly order: OldPackOrder;
  readonly dueOn: CalendarDate;
  readonly isOverdue: boolean;
  readonly why: string;
  readonly orderedAt: Date;
  readonly orderedByName: string;
}

export interface OldPackPage {
  readonly custody: CustodyPlace;
  /** Null while nobody said what becomes of it. */
  readonly ordered: OldPackView | null;
  /** How many times somebody said what becomes of it. */
  readonly orders: number;
  /** Why it may not leave as ordered now; null where it may, or where nothing is ordered. */
  readonly whyItStays: string | null;
}

/** The old pack a replacement or a refund left at the dealer's; null where none is left there, or it is not this person's. */
export function readOldPack(actor: Actor, reference: string, now = new Date()): Promise<OldPackPage | null> {
  return asActor(actor, async (tx) => {
    const loaded = await loadStanding(tx, reference, now);
    if (loaded === null || !leavesOldPack(oldPackOf(loaded, now))) return null;
    const ordered = await readOrder(tx, loaded, now);
    return {
      custody: loaded.tracks.custody.state,
      ordered,
      orders: await countOrders(tx, loaded),
      whyItStays: ordered === null ? null : whyOldPackStays(ordered.order, oldPackOf(loaded, now)),
    };
  });
}

const orderedMeanwhile = refuseStaleOrder("Somebody ordered otherwise while you had it open. Look at it as it is now.");
const notFound = refuseOrder("order", "There is no such return for you.");

/**
 * Says what becomes of the old pack and by when; the dealer is told. A later order takes the place of an earlier one, which
 * its author has seen: `seenOrders` is how many the page showed.
 */
export function orderOldPack(
  actor: Actor,
  reference: string,
  { order, dueOn, why }: OrderForOldPack,
  seenOrders: number,
  now = new Date(),
): Promise<OrderAnswer> {
  return inLocked(actor, reference, now, {}, async (tx, loaded) => {
    if (!may(actor, "approve-return")) return notFound;
    if (!leavesOldPack(oldPackOf(loaded, now)))
      return refuseOrder("order", "No old pack is left at the dealer's on this return.");
    if ((await countOrders(tx, loaded)) !== seenOrders) return orderedMeanwhile;
    const { row } = loaded;
    if (dueOn < civilDateAt(now, row.dealer.timeZone))
      return refuseOrder("dueOn", "This day is over already. Give a later one.");
    const { id } = await tx.oldPackOrder.create({
      data: {
        returnId: row.id,
        order,
        dueOn: toDateColumn(dueOn),
        why,
        orderedAt: now,
        orderedByUserId: actor.userId,
        orderedByName: actor.name,
      },
      select: { id: true },
    });
    const to = { dealerId: row.dealerId };
    await queueNotice(tx, {
      kind: "old-pack",
      reference: row.reference,
      returnId: row.id,
      occasion: id,
      until: dueOn,
      to,
    });
    return { ok: true };
  });
}

/** Records that the dealer handed the old pack to the carrier, as it was ordered, declared, labelled and packed. */
export function sendOldPack(
  actor: Actor,
  reference: string,
  seenOrders: number,
  now = new Date(),
): Promise<OrderAnswer> {
  return leave(
    actor,
    reference,
    { order: "send-in", to: "with-carrier-in", reason: "The old pack was called in.", seenOrders },
    now,
  );
}

/** Records who took the old pack away at the dealer's, with the disposal certificate. */
export function recycleOldPack(
  actor: Actor,
  reference: string,
  certificate: string,
  seenOrders: number,
  now = new Date(),
): Promise<OrderAnswer> {
  return leave(actor, reference, { order: "recycle-there", to: "recycler", reason: certificate, seenOrders }, now);
}

interface Leaving {
  readonly order: OldPackOrder;
  readonly to: CustodyPlace;
  readonly reason: string;
  readonly seenOrders: number;
}

async function leave(
  actor: Actor,
  reference: string,
  { order, to, reason, seenOrders }: Leaving,
  now: Date,
): Promise<OrderAnswer> {
  const told = await readIncoming(reference, now);
  return inLocked(actor, reference, now, told, async (tx, loaded) => {
    const { row, tracks } = loaded;
    if (!may(actor, "confirm-at-counter")) return refuseOrder("order", "Whoever has the pack records this.");
    if ((await countOrders(tx, loaded)) !== seenOrders) return orderedMeanwhile;
    const ordered = await readOrder(tx, loaded, now);
    if (ordered?.order !== order) return refuseOrder("order", "This is not what was asked for. Reload the page.");
    const why = whyOldPackStays(order, oldPackOf(loaded, now));
    if (why !== null) return refuseOrder("order", why);
    const { custody } = tracks;
    const asked = { to, reason, seenVersion: custody.version };
    const step = recordPlace({ ...custody, isOnHold: tracks.hold.state === "held" }, asked);
    if (step.kind === "refused") return refuseOrder("order", step.sentence);
    const said = { reason, at: now, zone: row.dealer.timeZone };
    const isRecorded = await recordCustody(tx, actor, { packId: row.packId, returnId: row.id, custody }, step, said);
    return isRecorded ? { ok: true } : refuseOrder("order", "Somebody moved the pack meanwhile. Reload the page.");
  });
}

function oldPackOf({ standing, tracks }: LoadedStanding, now: Date) {
  const { status, decidedRemedy, safety, isOnHold, known } = standing;
  return {
    status: status ?? "draft",
    decidedRemedy,
    custody: tracks.custody.state,
    safety,
    isOnHold,
    known,
    now,
  } as const;
}

async function readOrder(tx: Transaction, { row }: LoadedStanding, now: Date): Promise<OldPackView | null> {
  const last = await tx.oldPackOrder.findFirst({
    where: { returnId: row.id, about: "old-pack" },
    orderBy: [{ orderedAt: "desc" }, { id: "desc" }],
    select: { order: true, dueOn: true, why: true, orderedAt: true, orderedByName: true },
  });
  if (last === null || last.dueOn === null) return null;
  const dueOn = fromDateColumn(last.dueOn);
  return {
    ...last,
    order: readOldPackOrder(last.order),
    dueOn,
    isOverdue: dueOn < civilDateAt(now, row.dealer.timeZone),
  };
}

function countOrders(tx: Transaction, { row }: LoadedStanding): Promise<number> {
  return tx.oldPackOrder.count({ where: { returnId: row.id, about: "old-pack" } });
}

function inLocked(
  actor: Actor,
  reference: string,
  now: Date,
  told: Partial<KnownFacts>,
  run: (tx: Transaction, loaded: LoadedStanding) => Promise<OrderAnswer>,
): Promise<OrderAnswer> {
  return asActor(actor, async (tx) => {
    const found = await tx.return.findUnique({ where: { reference }, select: { packId: true } });
    if (found === null) return notFound;
    await lockPack(tx, found.packId);
    const loaded = await loadStanding(tx, reference, now, told);
    return loaded === null ? notFound : run(tx, loaded);
  });
}
