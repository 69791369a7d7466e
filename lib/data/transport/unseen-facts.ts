import "server-only";
import { readDecidedRemedy } from "@/lib/returns/decision.schema";
import type { MoveName } from "@/lib/returns/move-names";
import type { KnownFacts } from "@/lib/returns/return-facts";
import { isSetApart } from "@/lib/returns/safety-track";
import { asSystem, type Transaction } from "../database";
import { readQuarantineMet } from "../receiving/quarantine-met";
import { readPackTracks } from "../returns/track-rows";
import { isOutgoingStopped } from "../safety/outgoing-stop";
import { readIncoming } from "./incoming-sending";
import { whyNotHandedOver } from "./outgoing-sending";

/** A pack is sent on its way on all that is known of it, whoever sends it. */
const setsInMotion: readonly MoveName[] = ["approve-return", "renew-approval", "hand-to-carrier"];

/** A pack is said to be well, or let out of sight, on all that is known of it: also on what was told at another dealer's counter. */
const endsTheWatch: readonly MoveName[] = ["confirm-help", "withdraw", "merge"];

/**
 * What a move has to know that the person who makes it may not read. As the system: a dealer sees neither lots, tests nor the
 * incidents of other dealers, and only yes or no and one of a few reasons come out.
 */
export async function readWhatIsUnseen(name: MoveName, reference: string, now: Date): Promise<Partial<KnownFacts>> {
  if (setsInMotion.includes(name)) return readIncoming(reference, now);
  if (name === "hand-back") return asSystem((tx) => readOutgoing(tx, reference, now));
  return endsTheWatch.includes(name) ? asSystem((tx) => readHeldUnseen(tx, reference)) : {};
}

/** What keeps a pack from going out with the hand-over. */
async function readOutgoing(tx: Transaction, reference: string, now: Date): Promise<Partial<KnownFacts>> {
  const found = await tx.return.findUnique({
    where: { reference },
    select: { id: true, reference: true, decision: { select: { remedy: true } } },
  });
  if (found === null) return {};
  const decidedRemedy = readDecidedRemedy(found.decision?.remedy ?? null);
  return {
    ...(await readHeldUnseen(tx, reference)),
    outgoingIsStopped: await isOutgoingStopped(tx, { returnId: found.id, decidedRemedy }),
    outgoing: await whyNotHandedOver(tx, found, now),
    quarantineMet: await readQuarantineMet(tx, found.id),
  };
}

async function readHeldUnseen(tx: Transaction, reference: string): Promise<Partial<KnownFacts>> {
  const found = await tx.return.findUnique({ where: { reference }, select: { packId: true } });
  if (found === null) return {};
  return { isHeldUnseen: isSetApart((await readPackTracks(tx, found.packId)).handledAs) };
}
