import "server-only";
import type { Actor } from "@/lib/access/actor";
import type { IdentityToSettle } from "@/lib/receiving/settle-identity.schema";
import { mayComeIn, readCustodyPlace, recordPlace } from "@/lib/returns/custody-track";
import type { Transaction } from "../database";
import { makeMoveIn } from "../returns/move-return";
import { lockPack, readPackTracks, recordCustody } from "../returns/track-rows";
import { inReturn, NotMoved, notReceived, type ReceivedRow, type ReceivingAnswer } from "./receiving";

/**
 * Records who settled which pack lies there, and how, after a mismatch. Where it is another one, the pack of the return is
 * written back to where it was, its return waits for it again, and the found pack is written down as here.
 */
export function settleIdentity(
  actor: Actor,
  reference: string,
  { outcome, how }: IdentityToSettle,
  now = new Date(),
): Promise<ReceivingAnswer> {
  return inReturn(actor, reference, async (tx, row) => {
    const [arrival] = row.arrivals;
    if (arrival === undefined) return notReceived;
    if (arrival.identity === "match" || arrival.settlement !== null) {
      return { ok: false, reason: "settled", sentence: "There is nothing left to settle." };
    }
    const by = { settledAt: now, settledByUserId: actor.userId, settledByName: actor.name };
    await tx.identitySettlement.create({ data: { arrivalId: arrival.id, outcome, how, ...by } });
    if (outcome === "same-pack") return { ok: true };
    await waitForTheRightOne(tx, actor, { row, cameAt: arrival.arrivedAt, how }, now);
    await writeDownFound(tx, actor, row, arrival.foundSerial, now);
    return { ok: true };
  });
}

async function waitForTheRightOne(
  tx: Transaction,
  actor: Actor,
  { row, cameAt, how }: { readonly row: ReceivedRow; readonly cameAt: Date; readonly how: string },
  now: Date,
): Promise<void> {
  if (row.status === "at-the-works") {
    const move = { name: "await-again", reason: how, seenVersion: row.version } as const;
    const moved = await makeMoveIn(tx, actor, row.reference, move, now, { wasAnotherPack: true });
    if (!moved.ok) throw new NotMoved(moved);
  }
  await lockPack(tx, row.packId);
  const came = await tx.trackMove.findFirst({
    where: { returnId: row.id, to: "quarantine", at: { gte: cameAt }, track: { packId: row.packId, track: "custody" } },
    orderBy: { sequence: "desc" },
    select: { from: true },
  });
  // Nothing was written of it where nobody awaited it; what an earlier arrival wrote was true of that one.
  if (came !== null) await write(tx, actor, row, { packId: row.packId, to: came.from, reason: wasNotHere }, now);
}

const wasNotHere = "Another pack came in its place: it never was here.";
const foundHere = "Found at goods-in under another return.";

async function writeDownFound(
  tx: Transaction,
  actor: Actor,
  row: ReceivedRow,
  foundSerial: string | null,
  now: Date,
): Promise<void> {
  const found =
    foundSerial === null ? null : await tx.pack.findUnique({ where: { serial: foundSerial }, select: { id: true } });
  if (found === null || found.id === row.packId) return;
  await lockPack(tx, found.id);
  const { custody } = await readPackTracks(tx, found.id);
  if (!mayComeIn(custody.state)) return;
  await write(tx, actor, row, { packId: found.id, to: "quarantine", reason: foundHere }, now);
}

async function write(
  tx: Transaction,
  actor: Actor,
  { id: returnId, dealer }: ReceivedRow,
  { packId, to, reason }: { readonly packId: string; readonly to: string; readonly reason: string },
  now: Date,
): Promise<void> {
  const { custody, hold } = await readPackTracks(tx, packId);
  const asked = { to: readCustodyPlace(to), reason, seenVersion: custody.version };
  const step = recordPlace({ ...custody, isOnHold: hold.state === "held" }, asked);
  if (step.kind === "refused") return;
  const said = { reason, at: now, zone: dealer.timeZone };
  if (!(await recordCustody(tx, actor, { packId, returnId, custody }, step, said)))
    throw new Error(`The place of pack ${packId} moved although it was locked`);
}
