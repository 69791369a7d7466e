import "server-only";
import { whenLookedAtAnew } from "@/lib/returns/remedy-track";
import type { Transaction } from "../database";
import type { CarriedMove } from "./move-effects";
import { readRemedyTrack, recordStep } from "./track-rows";

/**
 * Takes the remedy along when a decision is objected to or taken up again: what was promised under it is promised no more.
 * False where somebody else's step came between.
 */
export async function takeRemedyAlong(
  tx: Transaction,
  { actor, loaded: { row }, request, now }: CarriedMove,
): Promise<boolean> {
  if (request.name !== "object" && request.name !== "reopen") return true;
  const remedy = await readRemedyTrack(tx, row.id);
  const to = whenLookedAtAnew(remedy.state);
  // Nothing was promised, so no track of it was opened.
  if (to === null || remedy.id === null) return true;
  return recordStep(tx, actor, remedy.id, {
    from: remedy.state,
    to,
    version: remedy.version + 1,
    reason: request.reason,
    at: now,
    zone: row.dealer.timeZone,
    returnId: row.id,
    facts: {},
  });
}
