import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { atTheDealers } from "@/lib/returns/custody-track";
import { openStatuses } from "@/lib/returns/return-status";
import type { Prisma } from "@/prisma/generated/client";
import { asSystem, type Transaction } from "./database";
import { shownSerial } from "./pack-words";

/** A pack of a held-back set that a dealer has, or that a customer of that dealer rides on loan. */
export interface OwnHeldBackPack {
  readonly serialShown: string;
  readonly where: "on-loan" | "under-a-return" | "in-stock";
  /** The dealer's return it is lent for or lies under; null in stock. */
  readonly reference: string | null;
}

/** Which packs are meant: those of a set of this number, or those of these serials. */
export type HeldBackPacks = { readonly setNumber: number } | { readonly serials: readonly string[] };

/** The dealers who have one of these packs. As the system: nobody of the house reads where a pack was dispatched to. */
export function readDealersHoldingAsSystem(packs: HeldBackPacks): Promise<readonly string[]> {
  const pack: Prisma.PackWhereInput =
    "setNumber" in packs
      ? { affectedSets: { some: { set: { number: packs.setNumber } } } }
      : { serial: { in: [...packs.serials] } };
  return asSystem(async (tx) => [...new Set((await readInHand(tx, pack)).map(({ dealerId }) => dealerId))]);
}

/**
 * What a dealer has of packs that are held back now; empty where nothing is, or the person is no dealer's. As the system: sets
 * are the house's, and only serials of this dealer's own packs come out.
 */
export function listOwnHeldBack(actor: Actor): Promise<readonly OwnHeldBackPack[]> {
  const { dealerId } = actor;
  if (dealerId === null || !may(actor, "read-own-returns")) return Promise.resolve([]);
  return asSystem(async (tx) => {
    const sets = await tx.affectedSet.findMany({
      select: {
        id: true,
        // Of these two the last says whether its packs are held back.
        events: {
          where: { kind: { in: ["stopped", "let-go"] } },
          orderBy: { sequence: "desc" },
          take: 1,
          select: { kind: true },
        },
      },
    });
    const stopped = sets.filter(({ events }) => events[0]?.kind === "stopped").map(({ id }) => id);
    if (stopped.length === 0) return [];
    const inHand = await readInHand(tx, { affectedSets: { some: { setId: { in: stopped } } } }, dealerId);
    return inHand.map(({ serial, where, reference }) => ({ serialShown: shownSerial(serial), where, reference }));
  });
}

interface InHand {
  readonly dealerId: string;
  readonly serial: string;
  readonly where: OwnHeldBackPack["where"];
  readonly reference: string | null;
}

/** Packs that dealers have: lent to a customer, under an open return on their side of the counter, or dispatched and not sold. */
async function readInHand(tx: Transaction, pack: Prisma.PackWhereInput, dealerId?: string): Promise<InHand[]> {
  const of = dealerId === undefined ? {} : { dealerId };
  const shown = { pack: { select: { serial: true } } };
  const loans = await tx.packLoan.findMany({
    where: { pack, returnedAt: null, return: of },
    select: { ...shown, return: { select: { reference: true, dealerId: true } } },
    orderBy: { pack: { serial: "asc" } },
  });
  const returns = await tx.return.findMany({
    where: {
      ...{ ...of, settledBefore: false, status: { in: [...openStatuses] } },
      pack: { AND: [pack, { tracks: { none: { track: "custody", state: { notIn: [...atTheDealers] } } } }] },
    },
    select: { ...shown, reference: true, dealerId: true },
    orderBy: { pack: { serial: "asc" } },
  });
  const stock = await tx.pack.findMany({
    where: {
      AND: [pack, { dispatchedToId: dealerId ?? { not: null } }],
      sale: null,
      replaces: null,
      replacedBy: null,
      loans: { none: { returnedAt: null } },
      returns: { none: { settledBefore: false } },
    },
    select: { serial: true, dispatchedToId: true },
    orderBy: { serial: "asc" },
  });
  return [
    ...loans.map((loan) => ({ ...loan.return, serial: loan.pack.serial, where: "on-loan" as const })),
    ...returns.map(({ pack: { serial }, ...row }) => ({ ...row, serial, where: "under-a-return" as const })),
    ...stock.flatMap(({ serial, dispatchedToId }) =>
      dispatchedToId === null
        ? []
        : [{ dealerId: dispatchedToId, serial, where: "in-stock" as const, reference: null }],
    ),
  ];
}
