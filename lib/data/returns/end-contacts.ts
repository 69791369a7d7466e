import "server-only";
import { program } from "@/lib/access/actor";
import { endedStatuses } from "@/lib/returns/return-status";
import { isSetApart } from "@/lib/returns/safety-track";
import { DAY_MS } from "@/lib/warranty/clock-spans";
import { asSystem, type Transaction } from "../database";
import { shownSerial } from "../packs/pack-words";
import { readHeldBack } from "../packs/stock-packs";
import { readFreeze } from "../safety/pack-freeze";
import { readJoinedReturns } from "./joined-returns";
import { readReturnSettings } from "./return-settings";
import { readPackTracks } from "./track-rows";

/** Contacts looked at in one transaction, so that a long list never holds the one connection of the embedded database for long. */
const CONTACTS_A_ROUND = 200;

/**
 * Why the customer of a return must stay reachable, as a sentence; null where nothing asks for it. Asked of every pack of the
 * complaint the customer has or had: the returned one, what was handed over in its place, and one on loan. Give it a system
 * transaction.
 */
export async function whyContactStays(tx: Transaction, returnId: string): Promise<string | null> {
  const returnIds = await readJoinedReturns(tx, returnId);
  const packs = await tx.pack.findMany({
    where: {
      OR: [
        { returns: { some: { id: { in: returnIds } } } },
        { reservations: { some: { returnId: { in: returnIds }, ending: "handed-over" } } },
        { loans: { some: { returnId: { in: returnIds }, returnedAt: null } } },
      ],
    },
    select: { id: true, serial: true },
    orderBy: { serial: "asc" },
  });
  for (const { id, serial } of packs) {
    const why = await whyWarned(tx, id, `pack ${shownSerial(serial)}`);
    if (why !== null) return why;
  }
  return null;
}

async function whyWarned(tx: Transaction, packId: string, pack: string): Promise<string | null> {
  const { because } = await readFreeze(tx, packId);
  if (because.length > 0)
    return `An incident of ${pack} is open, so the customer must stay reachable: it can be erased when the incident is closed.`;
  if ((await readHeldBack(tx, packId)).length > 0)
    return `The ${pack} belongs to packs that are held back for one cause, so the customer must stay reachable: it can be erased when they are let go.`;
  const { hold, safety } = await readPackTracks(tx, packId);
  if (isSetApart(safety.state))
    return `The ${pack} is set apart for safety, so the customer must stay reachable: it can be erased when the safety officer has judged it.`;
  return hold.state === "held"
    ? `A legal hold lies on ${pack}, so nothing of it is erased: it can be erased when the hold is lifted.`
    : null;
}

/**
 * Erases the contacts of customers whose return ended longer ago than they are kept, unless the customer may still have to be
 * warned. Says how many. As the system: it is nobody's request. Each part of the list is a transaction of its own, and those
 * that stay do not keep the rest from being looked at.
 */
export async function endContactsAsSystem(now: Date): Promise<number> {
  let ended = 0;
  for (let after: string | null = ""; after !== null; ) {
    const part: ContactsLookedAt = await asSystem((tx) => endContactsAfter(tx, after, now));
    ended += part.ended;
    after = part.last;
  }
  return ended;
}

interface ContactsLookedAt {
  readonly ended: number;
  /** The last one looked at; null where the list is over. */
  readonly last: string | null;
}

async function endContactsAfter(tx: Transaction, after: string | null, now: Date): Promise<ContactsLookedAt> {
  const { contactKeptDays } = await readReturnSettings(tx, now, "UTC");
  const keptSince = new Date(now.getTime() - contactKeptDays * DAY_MS);
  const old = await tx.safetyContactKey.findMany({
    where: {
      ...(after ? { returnId: { gt: after } } : {}),
      return: { status: { in: [...endedStatuses] }, moves: { none: { at: { gt: keptSince } } } },
    },
    select: { returnId: true },
    orderBy: { returnId: "asc" },
    take: CONTACTS_A_ROUND,
  });
  let ended = 0;
  for (const { returnId } of old) {
    if ((await whyContactStays(tx, returnId)) !== null) continue;
    await tx.safetyContactKey.deleteMany({ where: { returnId } });
    await tx.safetyContact.updateMany({ where: { returnId }, data: { sealed: "" } });
    const by = { byUserId: program.userId, byName: program.name };
    await tx.safetyContactEvent.createMany({ data: [{ returnId, kind: "ended", ...by, at: now }] });
    ended += 1;
  }
  return { ended, last: old.length < CONTACTS_A_ROUND ? null : (old.at(-1)?.returnId ?? null) };
}
