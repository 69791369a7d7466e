import "server-only";
import { type RefusedUnit, type UnitFacts, whyUnitMayNotGo } from "@/lib/packs/replacement-unit";
import { sayStop } from "@/lib/packs/stock-pack";
import { packInHandStatuses } from "@/lib/returns/return-status";
import { isSetApart } from "@/lib/returns/safety-track";
import { followedWhenGivenUp, whyUnitIsNotHere } from "@/lib/returns/unit-place";
import type { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";
import { checkReturnedPack } from "../packs/revision-checks";
import { findStockPack, readStops, type StockPackRow, stockPackFacts } from "../packs/stock-packs";
import { lockPack, readPackTracks } from "../returns/track-rows";

/** A return as far as its replacement depends on it. */
export interface ReturnToReplace {
  readonly id: string;
  readonly packId: string;
  readonly pack: {
    readonly revision: { readonly code: string };
    readonly lots: readonly { readonly lot: { readonly code: string } }[];
  };
  readonly decision: { readonly replacementRevision: { readonly code: string } | null } | null;
  readonly readingFile: {
    readonly findings: readonly { readonly fault: string; readonly confidence: number }[];
  } | null;
}

export const returnToReplaceSelect = {
  id: true,
  packId: true,
  pack: {
    select: {
      revision: { select: { code: true } },
      lots: { where: { removedOn: null }, select: { lot: { select: { code: true } } } },
    },
  },
  decision: { select: { replacementRevision: { select: { code: true } } } },
  readingFile: { select: { findings: { select: { fault: true, confidence: true } } } },
} as const satisfies Prisma.ReturnSelect;

export interface UnitFound {
  readonly packId: string;
  readonly serial: string;
}

/** The pack typed, if it may go out in place of the returned one; else why not. Nobody else moves the pack meanwhile. */
export async function judgeUnit(
  tx: Transaction,
  row: ReturnToReplace,
  typed: string,
): Promise<{ readonly kind: "may-go"; readonly unit: UnitFound } | ({ readonly kind: "refused" } & RefusedUnit)> {
  const found = await findStockPack(tx, typed);
  if (found !== null) await lockPack(tx, found.id);
  const code = row.decision?.replacementRevision?.code ?? null;
  const wanted = { revisionCode: code, mayReplaceToday: code !== null && (await mayReplace(tx, row, code)) };
  const refused = whyUnitMayNotGo(found === null ? null : await unitFacts(tx, row, found), wanted);
  if (refused?.why === "is-away" && found !== null)
    return { kind: "refused", ...(await saidWhereFollowed(tx, found.id, refused)) };
  if (refused !== null) return { kind: "refused", ...refused };
  if (found === null) throw new RangeError("a unit that may go is known");
  return { kind: "may-go", unit: { packId: found.id, serial: found.serial } };
}

/** With the return on whose page its place is recorded: the last one that kept it. */
async function saidWhereFollowed(tx: Transaction, packId: string, refused: RefusedUnit): Promise<RefusedUnit> {
  const last = await tx.unitReservation.findFirst({
    where: { packId },
    orderBy: { reservedAt: "desc" },
    select: { return: { select: { reference: true } } },
  });
  if (last === null) return refused;
  return { ...refused, sentence: `${refused.sentence} Where it is now is recorded on ${last.return.reference}.` };
}

async function unitFacts(tx: Transaction, row: ReturnToReplace, unit: StockPackRow): Promise<UnitFacts> {
  const other = unit.reservations.find(({ returnId }) => returnId !== row.id);
  const facts = await stockPackFacts(tx, unit);
  return {
    ...facts,
    // Sent with this return it is on its way to where it belongs.
    isAway: facts.isAway && !unit.reservations.some(({ returnId }) => returnId === row.id),
    isReturnedPack: unit.id === row.packId,
    revisionCode: unit.revision.code,
    hasBuildRecord: unit.build !== null,
    vibrationPassed: unit.build?.vibrationPassed ?? false,
    isInStore: unit.dispatchedOn === null,
    wasLent: (await tx.packLoan.findFirst({ where: { packId: unit.id }, select: { id: true } })) !== null,
    wentBefore: await wentBefore(tx, row.packId, unit.id),
    keptFor: other?.return.reference ?? null,
  };
}

/** UNION keeps a chain that leads back to itself from running on. */
async function wentBefore(tx: Transaction, returnedPackId: string, unitId: string): Promise<boolean> {
  const rows = await tx.$queryRaw<unknown[]>`
    WITH RECURSIVE went("packId") AS (
      SELECT ${returnedPackId}::uuid
      UNION
      SELECT r."oldPackId" FROM "Replacement" r JOIN went w ON r."newPackId" = w."packId")
    SELECT 1 FROM went WHERE "packId" = ${unitId}::uuid AND "packId" <> ${returnedPackId}::uuid`;
  return rows.length > 0;
}

async function mayReplace(tx: Transaction, row: ReturnToReplace, code: string): Promise<boolean> {
  const { replacement } = await checkReturnedPack(tx, {
    packId: row.packId,
    revisionCode: row.pack.revision.code,
    lotCodes: row.pack.lots.map(({ lot }) => lot.code),
    findings: row.readingFile?.findings ?? [],
  });
  return replacement.kind === "may-replace" && replacement.options.some(({ revisionCode }) => revisionCode === code);
}

export interface KeptUnit {
  readonly reservationId: string;
  readonly packId: string;
  readonly serial: string;
  readonly reservedAt: Date;
  readonly reservedByName: string;
}

/** The pack kept for a return; null where none is. */
export async function readKeptUnit(tx: Transaction, returnId: string): Promise<KeptUnit | null> {
  const row = await tx.unitReservation.findFirst({
    where: { returnId, endedAt: null },
    select: {
      id: true,
      packId: true,
      reservedAt: true,
      reservedByName: true,
      pack: { select: { serial: true } },
    },
  });
  if (row === null) return null;
  const { id, pack, ...rest } = row;
  return { reservationId: id, serial: pack.serial, ...rest };
}

/** A pack a return follows: the one kept for it, or one it gave up before that lay where nobody could take it off the shelf. */
export type FollowedUnit = Pick<KeptUnit, "packId" | "serial" | "reservedAt">;

/**
 * Packs that were given up while they were in quarantine or missing: the last return that kept them follows them until they are
 * in the store, wherever they turn up meanwhile, or until another keeps them or they have a return of their own.
 */
export async function readUnitsLeftAway(tx: Transaction, returnId: string): Promise<readonly FollowedUnit[]> {
  const rows = await tx.unitReservation.findMany({
    where: {
      ...{ returnId, ending: "given-up" },
      pack: {
        tracks: { some: { track: "custody", state: { in: [...followedWhenGivenUp] } } },
        reservations: { none: { endedAt: null } },
        returns: { none: { settledBefore: false } },
      },
    },
    orderBy: { endedAt: "desc" },
    distinct: ["packId"],
    select: {
      pack: {
        select: {
          id: true,
          serial: true,
          reservations: { orderBy: { reservedAt: "desc" }, take: 1, select: { returnId: true, reservedAt: true } },
        },
      },
    },
  });
  return rows.flatMap(({ pack: { id, serial, reservations } }) => {
    const [last] = reservations;
    return last?.returnId === returnId ? [{ packId: id, serial, reservedAt: last.reservedAt }] : [];
  });
}

/**
 * Why the pack kept for a return must not go out by now; null where nothing keeps it or no pack is kept. Give it a system
 * transaction where a dealer asks: known issues and lots are the house's, and one sentence comes out.
 */
export async function whyKeptUnitIsStopped(tx: Transaction, returnId: string): Promise<string | null> {
  const kept = await readKeptUnit(tx, returnId);
  if (kept === null) return null;
  const pack = await tx.pack.findUniqueOrThrow({ where: { id: kept.packId }, select: { revisionId: true } });
  const tracks = await readPackTracks(tx, kept.packId);
  if (isSetApart(tracks.handledAs)) return "The pack kept ready is set apart for safety.";
  const notHere = tracks.custody.id === null ? null : whyUnitIsNotHere(tracks.custody.state);
  if (notHere !== null) return notHere;
  const [stop] = await readStops(tx, { packId: kept.packId, revisionId: pack.revisionId });
  return stop === undefined ? null : sayStop(stop);
}

/** Packs of a revision in the store that never left it and that nothing keeps from going out, oldest first, for choosing. */
export async function listUnitsInStore(
  tx: Transaction,
  row: ReturnToReplace,
  most: number,
): Promise<readonly { readonly serial: string; readonly builtOn: Date }[]> {
  const code = row.decision?.replacementRevision?.code;
  if (code === undefined) return [];
  const rows = await tx.pack.findMany({
    where: {
      revision: { code },
      dispatchedOn: null,
      sale: null,
      replaces: null,
      replacedBy: null,
      reservations: { none: { endedAt: null } },
      loans: { none: {} },
      // One that was away is no new pack to whoever chooses by age: it is typed by whoever looked at it.
      tracks: { none: { track: "custody" } },
      returns: { none: { status: { in: [...packInHandStatuses] } } },
    },
    select: { id: true, serial: true, builtOn: true, revisionId: true },
    orderBy: [{ builtOn: "asc" }, { serial: "asc" }],
    take: most * 4,
  });
  const free = [];
  for (const { id, revisionId, ...unit } of rows) {
    if (free.length === most) break;
    if ((await readStops(tx, { packId: id, revisionId })).length === 0) free.push(unit);
  }
  return free;
}
