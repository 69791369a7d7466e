import "server-only";
import type { Actor } from "@/lib/access/actor";
import { endStayOfFound, readFoundPacks } from "./found-pack";
import { inReturn, type ReceivingAnswer } from "./receiving";

const refuse = (reason: string, sentence: string): ReceivingAnswer => ({ ok: false, reason, sentence });

/**
 * Ends the stay of a found pack that no record knows, with the words where it went: nobody can scan it in under a return of
 * its own. One that is known goes on under its own return, so that it is watched and tested like any other.
 */
export function endFoundStay(
  actor: Actor,
  reference: string,
  { stayId, because }: { readonly stayId: string; readonly because: string },
  now = new Date(),
): Promise<ReceivingAnswer> {
  return inReturn(actor, reference, async (tx, row) => {
    const found = (await readFoundPacks(tx, row.id)).find(({ stay }) => stay?.id === stayId);
    if (found === undefined) return refuse("not-there", "No found pack lies there under this return.");
    if (found.isKnown)
      return refuse(
        "has-a-record",
        "This pack is known: scan it in under its own return, and its place goes along. Where it has none, write one for its dealer first.",
      );
    await endStayOfFound(tx, actor, stayId, because, now);
    return { ok: true };
  });
}
