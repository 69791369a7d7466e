import "server-only";
import type { Actor } from "@/lib/access/actor";
import { type ClassDeclaration, proposeClassInHand } from "@/lib/transport/declare-class";
import { queueNotice } from "../notices/notices";
import { inReturn, readDeclaring, type TransportAnswer } from "./declare-transport";

/**
 * Lays a class before those who declare, in the name of whoever looked at the pack. It gives no leave to send and prints nothing;
 * of several the newest waits, until a class is declared.
 */
export function proposeTransportClass(
  actor: Actor,
  typedReference: string,
  proposed: ClassDeclaration,
  now = new Date(),
): Promise<TransportAnswer> {
  const { leg, transportClass, criteria, inEquipment, reason } = proposed;
  return inReturn(actor, typedReference, leg, now, async (tx, row) => {
    const { travelling, standing } = await readDeclaring(tx, row, leg, now);
    const outcome = proposeClassInHand(actor, standing, proposed);
    if (outcome.kind === "refused") return { ok: false, reason: outcome.why, sentence: outcome.sentence };
    const { id } = await tx.proposedClass.create({
      data: {
        returnId: row.id,
        leg,
        stockPackId: travelling.stockPackId,
        afterDeclaration: standing.declarations,
        transportClass,
        criteria,
        inEquipment,
        consignee: leg === "to-supplier" ? proposed.consignee.trim() : null,
        reason,
        proposedByUserId: actor.userId,
        proposedByName: actor.name,
        proposedByRole: actor.role,
        proposedAt: now,
      },
      select: { id: true },
    });
    const about = { reference: row.reference, returnId: row.id, occasion: `proposed ${id}` };
    await queueNotice(tx, { ...about, kind: "class-proposed", to: { role: "service-lead" } });
    return { ok: true };
  });
}
