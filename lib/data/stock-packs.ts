import "server-only";
import { readSerial } from "@/lib/packs/serial";
import type { StockPackFacts, StopOnPack } from "@/lib/packs/stock-pack";
import { packInHandStatuses } from "@/lib/returns/return-status";
import { isSetApart } from "@/lib/returns/safety-track";
import type { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "./database";
import { readPackTracks } from "./track-rows";

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
    stops: await readStops(tx, { packId: pack.id, revisionId: pack.revisionId }),
  };
}

/** Open issues that stop a pack or call it back, bound to its revision, to one of its lots, or to both. */
export async function readStops(
  tx: Transaction,
  pack: { readonly packId: string; readonly revisionId: string },
): Promise<StopOnPack[]> {
  const issues = await tx.knownIssue.findMany({
    where: {
      closedOn: null,
      OR: [{ stopShip: true }, { coversWhateverTheDate: true }],
      AND: [
        { OR: [{ revisionId: null }, { revisionId: pack.revisionId }] },
        { OR: [{ lotId: null }, { lot: { packs: { some: { packId: pack.packId, removedOn: null } } } }] },
      ],
    },
    select: { title: true, lot: { select: { code: true } } },
    orderBy: { openedOn: "asc" },
  });
  return [
    ...issues.map(({ title, lot }) => ({ title, lotCode: lot?.code ?? null })),
    ...(await readHeldBack(tx, pack.packId)),
  ];
}

/** Sets of packs that share a cause, whose packs somebody holds back. */
async function readHeldBack(tx: Transaction, packId: string): Promise<StopOnPack[]> {
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
            select: { kind: true },
          },
        },
      },
    },
    orderBy: { setId: "asc" },
  });
  return sets
    .filter(({ set }) => set.events[0]?.kind === "stopped")
    .map(({ set }) => ({ title: `held back with set ${set.number}: ${set.why}`, lotCode: null }));
}
