import "server-only";
import { program } from "@/lib/access/actor";
import { endedStatuses } from "@/lib/returns/return-status";
import { asSystem, type Transaction } from "./database";
import { readFreeze } from "./pack-freeze";
import { readReturnSettings } from "./return-settings";
import { readHeldBack } from "./stock-packs";
import { readPackTracks } from "./track-rows";

const DAY_MS = 24 * 60 * 60 * 1000;

/** Contacts looked at in one round, so that a long list never holds the one connection of the embedded database for long. */
const CONTACTS_A_ROUND = 200;

/** Why a customer must stay reachable, as a sentence; null where nothing asks for it. Give it a system transaction. */
export async function whyContactStays(tx: Transaction, packId: string): Promise<string | null> {
  const { because } = await readFreeze(tx, packId);
  if (because.length > 0)
    return "An incident of this pack is open, so the customer must stay reachable: it can be erased when the incident is closed.";
  if ((await readHeldBack(tx, packId)).length > 0)
    return "This pack belongs to packs that are held back for one cause, so the customer must stay reachable: it can be erased when they are let go.";
  const { hold } = await readPackTracks(tx, packId);
  return hold.state === "held"
    ? "A legal hold lies on this pack, so nothing of it is erased: it can be erased when the hold is lifted."
    : null;
}

/**
 * Erases the contacts of customers whose return ended longer ago than they are kept, unless the customer may still have to be
 * warned. Says how many. As the system: it is nobody's request.
 */
export function endContactsAsSystem(now: Date): Promise<number> {
  return asSystem(async (tx) => {
    const { contactKeptDays } = await readReturnSettings(tx, now, "UTC");
    const keptSince = new Date(now.getTime() - contactKeptDays * DAY_MS);
    const old = await tx.safetyContactKey.findMany({
      where: { return: { status: { in: [...endedStatuses] }, moves: { none: { at: { gt: keptSince } } } } },
      select: { returnId: true, return: { select: { packId: true } } },
      orderBy: { returnId: "asc" },
      take: CONTACTS_A_ROUND,
    });
    let ended = 0;
    for (const { returnId, return: of } of old) {
      if ((await whyContactStays(tx, of.packId)) !== null) continue;
      await tx.safetyContactKey.deleteMany({ where: { returnId } });
      await tx.safetyContact.updateMany({ where: { returnId }, data: { sealed: "" } });
      const by = { byUserId: program.userId, byName: program.name };
      await tx.safetyContactEvent.createMany({ data: [{ returnId, kind: "ended", ...by, at: now }] });
      ended += 1;
    }
    return ended;
  });
}
