import "server-only";
import type { Actor } from "@/lib/access/actor";
import type { IdentityCheck } from "@/lib/receiving/identity-check";
import { caseMoves } from "@/lib/returns/case-moves";
import { mayComeIn, recordPlace } from "@/lib/returns/custody-track";
import { trackRefused } from "@/lib/returns/track-step";
import type { Transaction } from "../database";
import { makeMoveIn } from "../returns/move-return";
import { lockPack, readPackTracks, recordCustody } from "../returns/track-rows";
import { liesHereAsFound } from "./found-pack";

/** The return a pack came in for. */
interface ReturnOfPack {
  readonly id: string;
  readonly reference: string;
  readonly status: string;
  readonly version: number;
  readonly packId: string;
  readonly dealer: { readonly timeZone: string };
}

interface ScannedPack {
  readonly identity: IdentityCheck;
  readonly scanned: string;
  /** The entry that is being made of it. */
  readonly arrivalId: string;
}

type TakenIn = { readonly ok: true } | { readonly ok: false; readonly reason: string; readonly sentence: string };

const CAME_UNANNOUNCED = "Recorded at goods-in. It came unannounced.";

/**
 * Takes a pack in: its return goes to the works with it where it can; from any other status the pack alone is written down
 * as here, so that whoever goes on with the return finds it. A pack that the record knows to be here moves nothing.
 */
export async function takeIn(
  tx: Transaction,
  actor: Actor,
  row: ReturnOfPack,
  pack: ScannedPack,
  now: Date,
): Promise<TakenIn> {
  await lockPack(tx, row.packId);
  const { custody, hold } = await readPackTracks(tx, row.packId);
  const isAwaited = row.status === "return-expected";
  // What nobody awaited and is another pack may simply have been scanned under the wrong return: it waits to be settled.
  const isNews = mayComeIn(custody.state) || (await liesHereAsFound(tx, row.packId, row.id, pack.arrivalId));
  if (!isAwaited && (!isNews || pack.identity.kind === "other-pack")) return { ok: true };
  if (isAwaited || caseMoves.receive.from.some((from) => from === row.status)) {
    return moveToTheWorks(tx, actor, row, pack, now);
  }
  // Found here before: its place is written down already, and its return stands where nothing receives it.
  if (custody.state === "quarantine") return { ok: true };
  const asked = { to: "quarantine", reason: CAME_UNANNOUNCED, seenVersion: custody.version } as const;
  const step = recordPlace({ ...custody, isOnHold: hold.state === "held" }, asked);
  if (step.kind === "refused") return { ok: false, reason: step.why, sentence: step.sentence };
  const said = { reason: CAME_UNANNOUNCED, at: now, zone: row.dealer.timeZone };
  if (await recordCustody(tx, actor, { packId: row.packId, returnId: row.id, custody }, step, said))
    return { ok: true };
  const { why, sentence } = trackRefused("someone-changed-this");
  return { ok: false, reason: why, sentence };
}

/** A wrong or unreadable serial is a mismatch in words: the return moves with it, and the pack stays until it is settled. */
function moveToTheWorks(
  tx: Transaction,
  actor: Actor,
  { reference, status, version }: ReturnOfPack,
  { identity, scanned }: ScannedPack,
  now: Date,
): Promise<TakenIn> {
  const reason = status === "return-expected" ? "Recorded at goods-in." : CAME_UNANNOUNCED;
  const stated =
    identity.kind === "match"
      ? { scannedSerial: identity.serial }
      : { scannedSerial: scanned.slice(0, 40), mismatchNote: identity.sentence.slice(0, 500) };
  const move = { name: "receive", reason, seenVersion: version, stated } as const;
  return makeMoveIn(tx, actor, reference, move, now, { hasArrived: true });
}
