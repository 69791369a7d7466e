import "server-only";
import type { Actor } from "@/lib/access/actor";
import { atTheWorks, type CustodyPlace, recordPlace } from "@/lib/returns/custody-track";
import { readReturnReference } from "@/lib/returns/return-reference";
import { whyNotThisPack } from "@/lib/returns/scan-of-pack";
import { type TrackRequest, trackRefused } from "@/lib/returns/track-step";
import { moveUnit, notOnTheShelf } from "@/lib/returns/unit-place";
import { asActor, type Transaction } from "./database";
import type { MoverName } from "./history";
import { readKeptUnit } from "./replacement-units";
import { lockPack, readPackTracks, readRemedyTrack, recordCustody, recordStep, type TrackRow } from "./track-rows";

/** Where a pack from stock is, as somebody recorded it; null where nothing ever moved it. */
export async function readUnitPlace(tx: Transaction, packId: string): Promise<TrackRow<CustodyPlace> | null> {
  const { custody } = await readPackTracks(tx, packId);
  return custody.id === null ? null : custody;
}

interface UnitOnItsWay {
  readonly packId: string;
  readonly returnId: string;
  readonly to: CustodyPlace;
  readonly said: { readonly reason: string; readonly at: Date; readonly zone: string };
}

/** Writes down where a unit is with a step that says so: sent, or handed over. False where somebody moved it meanwhile. */
export async function recordUnitPlace(
  tx: Transaction,
  actor: MoverName,
  { packId, returnId, to, said }: UnitOnItsWay,
): Promise<boolean> {
  await lockPack(tx, packId);
  const { custody, hold } = await readPackTracks(tx, packId);
  const asked = { to, reason: said.reason, seenVersion: custody.version };
  const step = recordPlace({ ...custody, isOnHold: hold.state === "held" }, asked);
  if (step.kind === "refused") return true;
  return recordCustody(tx, actor, { packId, returnId, custody }, step, said);
}

export type UnitPlaceAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly field: "to" | "scanned" | "reason"; readonly sentence: string };

/** A pack a return follows: the one kept for it, or one it gave up before that lay where nobody could take it off the shelf. */
export interface FollowedUnit {
  readonly packId: string;
  readonly serial: string;
}

/**
 * Packs that were given up while they were in quarantine or missing: the last return that kept them follows them until they are
 * in the store, or until another keeps them or they have a return of their own.
 */
export async function readUnitsLeftAway(tx: Transaction, returnId: string): Promise<readonly FollowedUnit[]> {
  const rows = await tx.unitReservation.findMany({
    where: {
      ...{ returnId, ending: "given-up" },
      pack: {
        tracks: { some: { track: "custody", state: { in: [...notOnTheShelf] } } },
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
          reservations: { orderBy: { reservedAt: "desc" }, take: 1, select: { returnId: true } },
        },
      },
    },
  });
  return rows
    .filter(({ pack }) => pack.reservations[0]?.returnId === returnId)
    .map(({ pack: { id, serial } }) => ({ packId: id, serial }));
}

/** Records where a pack that was sent in place of the returned one is now; what is there is scanned, what is missing is not. */
export async function recordWhereUnitIs(
  actor: Actor,
  typedReference: string,
  request: TrackRequest<CustodyPlace> & {
    readonly scanned: string;
    /** Serial of one that was given up before; without it, it is the pack that is kept. */
    readonly unit?: string;
  },
  now = new Date(),
): Promise<UnitPlaceAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return refuse("to", "There is no such return for you.");
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({
      where: { reference: reading.reference },
      select: { id: true, reference: true, dealer: { select: { timeZone: true } } },
    });
    const unit = row === null ? null : await findFollowed(tx, row.id, request.unit);
    if (row === null || unit === null) return refuse("to", "This return follows no such pack any more.");
    await lockPack(tx, unit.packId);
    const custody = await readUnitPlace(tx, unit.packId);
    if (custody === null) return refuse("to", trackRefused("not-from-here").sentence);
    const step = moveUnit(actor, custody, request);
    if (step.kind === "refused") return refuse(step.why === "unit-unseen" ? "reason" : "to", step.sentence);
    const scan = { scanned: request.scanned, cannotBeRead: false };
    const why = request.to === "missing" ? null : whyNotThisPack(scan, { serial: unit.serial, reference: unit.serial });
    if (why !== null) return refuse("scanned", trackRefused(why).sentence);
    const said = { reason: request.reason, at: now, zone: row.dealer.timeZone };
    const isRecorded = await recordCustody(tx, actor, { packId: unit.packId, returnId: row.id, custody }, step, said);
    if (!isRecorded) return refuse("to", trackRefused("someone-changed-this").sentence);
    if (atTheWorks.includes(step.to)) await keptReadyAgain(tx, actor, row.id, said);
    return { ok: true };
  });
}

async function findFollowed(tx: Transaction, returnId: string, unit = ""): Promise<FollowedUnit | null> {
  const kept = await readKeptUnit(tx, returnId);
  if (unit === "" || kept?.serial === unit) return kept;
  return (await readUnitsLeftAway(tx, returnId)).find(({ serial }) => serial === unit) ?? null;
}

/** What came back was not received: the remedy of the return that keeps it stands where it stood before it was sent. */
async function keptReadyAgain(
  tx: Transaction,
  actor: MoverName,
  returnId: string,
  said: UnitOnItsWay["said"],
): Promise<void> {
  const remedy = await readRemedyTrack(tx, returnId);
  if (remedy.id === null || remedy.state !== "sent" || (await readKeptUnit(tx, returnId)) === null) return;
  const { state: from, version } = remedy;
  await recordStep(tx, actor, remedy.id, { from, to: "reserved", version: version + 1, ...said, returnId, facts: {} });
}

function refuse(field: Exclude<UnitPlaceAnswer, { ok: true }>["field"], sentence: string): UnitPlaceAnswer {
  return { ok: false, field, sentence };
}
