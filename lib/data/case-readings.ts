import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readReturnReference } from "@/lib/returns/return-reference";
import { asActor } from "./database";

export type CaseReadingAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: "not-allowed" | "not-found" };

/** Keeps a straight-edge reading of the case. A reading is never changed: whoever doubts one takes another. */
export async function recordCaseReading(
  actor: Actor,
  typedReference: string,
  gapMillimetre: number,
  now = new Date(),
): Promise<CaseReadingAnswer> {
  if (!may(actor, "test-pack")) return { ok: false, reason: "not-allowed" };
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return { ok: false, reason: "not-found" };
  return asActor(actor, async (tx) => {
    const found = await tx.return.findUnique({ where: { reference: reading.reference }, select: { id: true } });
    if (found === null) return { ok: false, reason: "not-found" };
    await tx.caseReading.create({
      data: {
        returnId: found.id,
        gapMillimetre,
        readByUserId: actor.userId,
        readByName: actor.name,
        readAt: now,
      },
    });
    return { ok: true };
  });
}
