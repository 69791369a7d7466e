import "server-only";
import type { KnownFacts } from "@/lib/returns/return-facts";
import { asSystem, type Transaction } from "../database";
import { isPackedAsTold, readPacking } from "./packing-check";
import { readSendingFacts } from "./sending-facts";
import { readTransportIn } from "./transport";

/**
 * What a pack on its way to us has to be asked of, as the house sees it: an incident told at another dealer's counter holds it
 * too, and its class rests on more than the dealer who sends it may read. Only yes or no comes out.
 */
export function readIncoming(reference: string, now: Date): Promise<Partial<KnownFacts>> {
  return asSystem((tx) => readIncomingIn(tx, reference, now));
}

/** The same inside a transaction that sees what the house sees. */
export async function readIncomingIn(tx: Transaction, reference: string, now: Date): Promise<Partial<KnownFacts>> {
  const row = await tx.return.findUnique({ where: { reference }, select: { id: true } });
  const transport = await readTransportIn(tx, reference, "to-maker", now);
  if (row === null || transport === null) return {};
  const { declarationId, ...sending } = await readSendingFacts(tx, row.id, now);
  const { kind } = transport.sending;
  return {
    ...sending,
    packedAsTold: isPackedAsTold(await readPacking(tx, declarationId)),
    evidenceStands: kind !== "evidence-changed",
    isHeldUnseen: kind === "frozen" || kind === "set-apart",
  };
}
