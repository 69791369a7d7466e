import "server-only";
import type { Actor } from "@/lib/access/actor";
import { readReturnReference } from "@/lib/returns/return-reference";
import { asActor } from "../database";

/** Whether a legal hold lies on the pack of a return; false where this person may not see it. */
export function isPackOnHold(actor: Actor, typedReference: string): Promise<boolean> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return Promise.resolve(false);
  return asActor(actor, async (tx) => {
    const { reference } = reading;
    const held = { track: "hold", state: "held", pack: { returns: { some: { reference } } } };
    return (await tx.track.count({ where: held })) > 0;
  });
}
