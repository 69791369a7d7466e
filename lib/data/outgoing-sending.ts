import "server-only";
import type { OutgoingRefusal } from "@/lib/returns/outgoing-refusal";
import type { OutgoingLeg } from "@/lib/transport/leg";
import { whyNotLeaving } from "@/lib/transport/ready-to-leave";
import type { Transaction } from "./database";
import { isPackedAsTold, readPacking } from "./packing-check";
import { readTransportIn, type TransportView } from "./transport";

/** Why a pack of a return may not leave along a way out, and the declaration it would leave under. */
export interface Leaving {
  readonly why: OutgoingRefusal | null;
  readonly declarationId: string | null;
  readonly transportClass: string | null;
}

/**
 * Whether the pack that a return sends along a way out may be given to a carrier. Give it a transaction that sees what the
 * house sees: the class follows from tests, work, flags and incidents that no dealer reads. With `serial` it has to be that
 * pack which travels.
 */
export async function readLeaving(
  tx: Transaction,
  { id, reference }: { readonly id: string; readonly reference: string },
  leg: OutgoingLeg,
  now: Date,
  serial?: string,
): Promise<Leaving> {
  const transport = await readTransportIn(tx, reference, leg, now);
  if (transport === null || (serial !== undefined && transport.serial !== serial)) return nothingDeclared;
  return {
    why: await whyNot(tx, id, leg, transport),
    declarationId: transport.declaration?.id ?? null,
    transportClass: transport.declaration?.transportClass ?? null,
  };
}

const nothingDeclared: Leaving = { why: "outgoing-no-class", declarationId: null, transportClass: null };

async function whyNot(
  tx: Transaction,
  returnId: string,
  leg: OutgoingLeg,
  { declaration, sending, orders }: TransportView,
): Promise<OutgoingRefusal | null> {
  if (sending.kind === "may-send" && orders?.kind !== "pack") return "outgoing-no-orders";
  return whyNotLeaving({
    sending,
    labelPrinted: declaration?.prints.some(({ kind }) => kind === "label") ?? false,
    packedAsTold: isPackedAsTold(await readPacking(tx, returnId, leg)),
  });
}
