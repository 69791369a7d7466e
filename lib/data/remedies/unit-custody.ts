import "server-only";
import { type CustodyPlace, recordPlace } from "@/lib/returns/custody-track";
import type { Transaction } from "../database";
import type { MoverName } from "../returns/history";
import { lockPack, readPackTracks, recordCustody, type TrackRow } from "../returns/track-rows";

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
