import "server-only";
import { placeWhenLodged, recordPlace } from "@/lib/returns/custody-track";
import type { Transaction } from "../database";
import type { MoverName } from "./history";
import { readPackTracks, recordCustody } from "./track-rows";

interface Lodged {
  readonly packId: string;
  readonly returnId: string;
  readonly at: Date;
  readonly zone: string;
}

/** Whoever lodges has the pack before them, wherever it was written down last; what lies at the works stays written so. */
export async function bringBack(
  tx: Transaction,
  actor: MoverName,
  { packId, returnId, at, zone }: Lodged,
): Promise<void> {
  const { custody } = await readPackTracks(tx, packId);
  const to = placeWhenLodged(custody.state);
  if (to === null) return;
  const reason = "A return was lodged, so the dealer has it.";
  const step = recordPlace({ ...custody, isOnHold: false }, { to, reason, seenVersion: custody.version });
  if (step.kind === "refused") throw new RangeError(`${packId}: ${step.why}`);
  const isRecorded = await recordCustody(tx, actor, { packId, returnId, custody }, step, { reason, at, zone });
  if (!isRecorded) throw new Error(`The place of pack ${packId} moved although it was locked`);
}
