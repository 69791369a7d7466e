import "server-only";
import type { ShipStop } from "@/lib/packs/let-pack-go";
import { readSerial } from "@/lib/packs/serial";
import type { StockPackFacts } from "@/lib/packs/stock-pack";
import { packInHandStatuses } from "@/lib/returns/return-status";
import { isSetApart } from "@/lib/returns/safety-track";
import { notOnTheShelf } from "@/lib/returns/unit-place";
import type { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";
import { readPackTracks } from "../returns/track-rows";
import { concerning, openToday } from "./issue-bounds";

const stockSelect = {
  id: true,
  serial: true,
  dispatchedOn: true,
  revisionId: true,
  revision: { select: { code: true } },
  build: { select: { vibrationPassed: true } },
  sale: { select: { packId: true } },
  replaces: { select: { id: true } },
  replacedBy: { select: { id: true } },
  returns: {
    where: { status: { in: [...packInHandStatuses] }, settledBefore: false },
    select: { id: true },
    take: 1,
  },
  reservations: { where: { endedAt: null }, select: { returnId: true, return: { select: { reference: true } } } },
  loans: { where: { returnedAt: null }, select: { id: true } },
} as const satisfies Prisma.PackSelect;

export type StockPackRow = Prisma.PackGetPayload<{ select: typeof stockSelect }>;

/** The pack of a serial as typed; null where the serial is none or no pack has it. */
export async function findStockPack(tx: Transaction, typed: string): Promise<StockPackRow | null> {
  const serial = readSerial(typed);
  if (serial.kind !== "serial") return null;
  return tx.pack.findUnique({ where: { serial: serial.serial }, select: stockSelect });
}

/** What is known of it for whoever wants to hand it to a customer, but for which pack came back. */
export async function stockPackFacts(
  tx: Transaction,
  pack: StockPackRow,
): Promise<Omit<StockPackFacts, "isReturnedPack">> {
  const tracks = await readPackTracks(tx, pack.id);
  return {
    wasSold: pack.sale !== null,
    cameAsReplacement: pack.replaces !== null,
    wasReplaced: pack.replacedBy !== null,
    hasOpenReturn: pack.returns.length > 0,
    isSetApart: isSetApart(tracks.handledAs),
    isOnHold: tracks.hold.state === "held",
    isLent: pack.loans.length > 0,
    isAway: tracks.custody.id !== null && notOnTheShelf.includes(tracks.custody.state),
    stops: await readStops(tx, { packId: pack.id, revisionId: pack.revisionId }),
  };
}

interface PackToStop {
  readonly packId: string;
  readonly revisionId: string;
}

/** Open issues that stop a pack or call it back, and held-back sets. */
export function readStops(tx: Transaction, pack: PackToStop): Promise<ShipStop[]> {
  return readStopsBy(tx, pack, [{ stopShip: true }, { coversWhateverTheDate: true }]);
}

/**
 * The same for a pack that came back: an issue that calls packs back is what it may have been repaired for, so only those
 * count under which nothing goes out at all.
 */
export function readShipStops(tx: Transaction, pack: PackToStop): Promise<ShipStop[]> {
  return readStopsBy(tx, pack, [{ stopShip: true }]);
}

async function readStopsBy(
  tx: Transaction,
  pack: PackToStop,
  kinds: Prisma.KnownIssueWhereInput[],
): Promise<ShipStop[]> {
  const issues = await tx.knownIssue.findMany({
    where: {
      OR: kinds,
      AND: [openToday(), concerning(pack)],
    },
    select: { id: true, title: true, lot: { select: { code: true } } },
    orderBy: { openedOn: "asc" },
  });
  return [
    ...issues.map(({ id, title, lot }) => ({
      key: `issue ${id}`,
      title,
      lotCode: lot?.code ?? null,
      heldByUserId: null,
    })),
    ...(await readHeldBack(tx, pack.packId)),
  ];
}

/** Sets of packs that share a cause, whose packs somebody holds back. */
export async function readHeldBack(tx: Transaction, packId: string): Promise<ShipStop[]> {
  const sets = await tx.affectedSetPack.findMany({
    where: { packId },
    select: {
      set: {
        select: {
          number: true,
          why: true,
          // Of these two the last says whether its packs are held back.
          events: {
            where: { kind: { in: ["stopped", "let-go"] } },
            orderBy: { sequence: "desc" },
            take: 1,
            select: { id: true, kind: true, byUserId: true },
          },
        },
      },
    },
    orderBy: { setId: "asc" },
  });
  return sets.flatMap(({ set: { number, why, events } }) => {
    const [last] = events;
    if (last?.kind !== "stopped") return [];
    const title = `held back with set ${number}: ${why.trim().replace(/\.+$/, "")}`;
    return [{ key: `held back ${last.id}`, title, lotCode: null, heldByUserId: last.byUserId }];
  });
}
