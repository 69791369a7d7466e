import "server-only";
import { isSetApart, readSafetyState } from "@/lib/returns/safety-track";
import { type FreezeFacts, freezeFacts } from "@/lib/safety/freeze-facts";
import { asSystem, type Transaction } from "./database";

/**
 * What the incidents of a pack forbid, as far as this transaction sees them. Give it a system transaction where another
 * dealer's incident of the same pack must count.
 */
export async function readFreeze(tx: Transaction, packId: string): Promise<FreezeFacts> {
  const incidents = await tx.incident.findMany({
    where: { packId },
    select: { reference: true, closing: { select: { incidentId: true } } },
    orderBy: { openedAt: "asc" },
  });
  return freezeFacts(incidents.map(({ reference, closing }) => ({ reference, isOpen: closing === null })));
}

/** What holds a pack where it is: its incidents, and a flag that sets it apart without one. */
export interface HeldPack {
  /** Of the open incidents, a sentence each. */
  readonly because: readonly string[];
  readonly isSetApart: boolean;
}

/** In a transaction that sees every incident of the pack. */
export async function readHeld(tx: Transaction, packId: string): Promise<HeldPack> {
  const { because } = await readFreeze(tx, packId);
  const flag = await tx.track.findFirst({ where: { packId, track: "safety" }, select: { state: true } });
  return { because, isSetApart: flag !== null && isSetApart(readSafetyState(flag.state)) };
}

/** The same for somebody outside a transaction, whichever dealer raised the flag or told of the incident. */
export function readHeldAsSystem(packId: string): Promise<HeldPack> {
  return asSystem((tx) => readHeld(tx, packId));
}
