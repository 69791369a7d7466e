import "server-only";
import type { Actor } from "@/lib/access/actor";
import { type CustodyPlace, recordPlace } from "@/lib/returns/custody-track";
import { readReturnReference } from "@/lib/returns/return-reference";
import { whyNotThisPack } from "@/lib/returns/scan-of-pack";
import { type TrackRequest, trackRefused } from "@/lib/returns/track-step";
import { moveUnit } from "@/lib/returns/unit-place";
import { asActor, type Transaction } from "./database";
import type { MoverName } from "./history";
import { readKeptUnit } from "./replacement-units";
import { lockPack, readPackTracks, recordCustody, type TrackRow } from "./track-rows";

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

/** Records where the pack that was sent in place of the returned one is now; what is there is scanned, what is missing is not. */
export async function recordWhereUnitIs(
  actor: Actor,
  typedReference: string,
  request: TrackRequest<CustodyPlace> & { readonly scanned: string },
  now = new Date(),
): Promise<UnitPlaceAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return refuse("to", "There is no such return for you.");
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({
      where: { reference: reading.reference },
      select: { id: true, reference: true, dealer: { select: { timeZone: true } } },
    });
    const kept = row === null ? null : await readKeptUnit(tx, row.id);
    if (row === null || kept === null) return refuse("to", "No pack is kept for this return.");
    await lockPack(tx, kept.packId);
    const custody = await readUnitPlace(tx, kept.packId);
    if (custody === null) return refuse("to", trackRefused("not-from-here").sentence);
    const step = moveUnit(actor, custody, request);
    if (step.kind === "refused") return refuse(step.why === "unit-unseen" ? "reason" : "to", step.sentence);
    const scan = { scanned: request.scanned, cannotBeRead: false };
    const why = request.to === "missing" ? null : whyNotThisPack(scan, { serial: kept.serial, reference: kept.serial });
    if (why !== null) return refuse("scanned", trackRefused(why).sentence);
    const said = { reason: request.reason, at: now, zone: row.dealer.timeZone };
    const isRecorded = await recordCustody(tx, actor, { packId: kept.packId, returnId: row.id, custody }, step, said);
    return isRecorded ? { ok: true } : refuse("to", trackRefused("someone-changed-this").sentence);
  });
}

function refuse(field: Exclude<UnitPlaceAnswer, { ok: true }>["field"], sentence: string): UnitPlaceAnswer {
  return { ok: false, field, sentence };
}
