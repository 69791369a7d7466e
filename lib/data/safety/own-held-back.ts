import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { atTheDealers } from "@/lib/returns/custody-track";
import { openStatuses } from "@/lib/returns/return-status";
import type { Prisma } from "@/prisma/generated/client";
import { asSystem, type Transaction } from "../database";
import { type IssueBound, openToday, packsUnder } from "../packs/issue-bounds";
import { shownSerial } from "../packs/pack-words";

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
 * The dealers who have a pack under an issue, each with the revision of one of them, by which it is told. Give it a system
 * transaction: nobody of the house reads where a pack was dispatched to.
 */
export async function readDealersUnder(
  tx: Transaction,
  issue: IssueBound,
): Promise<readonly { readonly dealerId: string; readonly revisionCode: string }[]> {
  const inHand = await readInHand(tx, packsUnder(issue));
  return [...new Map(inHand.map(({ dealerId, revisionCode }) => [dealerId, { dealerId, revisionCode }])).values()];
}

/**
 * What a dealer has of packs that are held back now, with a set or under an issue that stops them; empty where nothing is, or the person is no dealer's. As the system: sets
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
    const issues = await tx.knownIssue.findMany({
      where: { stopShip: true, ...openToday() },
      select: { revisionId: true, lotId: true, setId: true },
    });
    if (stopped.length === 0 && issues.length === 0) return [];
    const held = [{ affectedSets: { some: { setId: { in: stopped } } } }, ...issues.map(packsUnder)];
    const inHand = await readInHand(tx, { OR: held }, dealerId);
    return inHand.map(({ serial, where, reference }) => ({ serialShown: shownSerial(serial), where, reference }));
  });
}

interface InHand {
  readonly dealerId: string;
  readonly serial: string;
  readonly revisionCode: string;
  readonly where: OwnHeldBackPack["where"];
  readonly reference: string | null;
}

/** Packs that dealers have: lent to a customer, under an open return on their side of the counter, or dispatched and not sold. */
async function readInHand(tx: Transaction, pack: Prisma.PackWhereInput, dealerId?: string): Promise<InHand[]> {
  const of = dealerId === undefined ? {} : { dealerId };
  const shown = { pack: { select: { serial: true, revision: { select: { code: true } } } } };
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
    select: { serial: true, dispatchedToId: true, revision: { select: { code: true } } },
    orderBy: { serial: "asc" },
  });
  return [
    ...loans.map((loan) => ({ ...loan.return, ...named(loan.pack), where: "on-loan" as const })),
    ...returns.map(({ pack: of, ...row }) => ({ ...row, ...named(of), where: "under-a-return" as const })),
    ...stock.flatMap(({ dispatchedToId, ...of }) =>
      dispatchedToId === null
        ? []
        : [{ dealerId: dispatchedToId, ...named(of), where: "in-stock" as const, reference: null }],
    ),
  ];
}

function named({ serial, revision }: { readonly serial: string; readonly revision: { readonly code: string } }) {
  return { serial, revisionCode: revision.code };
}
