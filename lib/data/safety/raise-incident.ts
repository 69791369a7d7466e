import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readReturnReference } from "@/lib/returns/return-reference";
import type { FurtherKnowledge, IncidentEntryContent } from "@/lib/safety/incident-entry.schema";
import { flagOfIncident, incidentFlagLabels } from "@/lib/safety/incident-flags";
import { readIncidentReference } from "@/lib/safety/incident-reference";
import { asActor, type Transaction } from "../database";
import { lockPack } from "../returns/track-rows";
import { type IncidentFacts, openIncident, tellingsOf } from "./open-incident";
import { flagPack, raiseFlag, rankAnew } from "./raise-danger";
import { tellMore } from "./tell-more";

export type IncidentAnswer =
  | { readonly ok: true; readonly reference: string }
  | { readonly ok: false; readonly sentence: string; readonly field?: string };

/**
 * Opens an incident by hand on a return, with what became known; anyone may who sees the return. The pack is set apart, its
 * return goes to the head of the queue, and the safety officer hears of it, all in one transaction.
 */
export async function raiseIncident(
  actor: Actor,
  typedReference: string,
  known: FurtherKnowledge,
  now = new Date(),
): Promise<IncidentAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "raise-safety")) return notFound;
  if (known.knownAt > now)
    return { ok: false, field: "knownAt", sentence: "It cannot have become known in the future." };
  if (known.flags.length === 0)
    return { ok: false, field: "flags", sentence: "Choose at least one thing that happened." };
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({
      where: { reference: reading.reference },
      select: {
        id: true,
        reference: true,
        packId: true,
        dealerId: true,
        dealer: { select: { country: true, timeZone: true } },
      },
    });
    if (row === null) return notFound;
    // First, so that nobody hands the pack over meanwhile: the incident is seen by whoever waits for the lock.
    const reason = `Incident raised by hand: ${known.flags.map((flag) => incidentFlagLabels[flag]).join("; ")}.`;
    const asked = flagOfIncident(known.flags);
    const flag = { asked, reason, facts: { flags: known.flags }, occasion: `incident ${now.toISOString()}` };
    await flagPack(tx, actor, row, flag, now);
    const reference = await openIncident(
      tx,
      actor,
      {
        packId: row.packId,
        returnId: row.id,
        dealerId: row.dealerId,
        country: known.country === "" ? row.dealer.country : known.country,
        flags: known.flags,
        knowledge: [knowledgeOf(known)],
      },
      now,
    );
    return { ok: true, reference };
  });
}

/**
 * Adds what more became known. It can move first knowledge earlier, never later; decisions made before it have to be made
 * anew, and the safety officer is called again. A closed incident takes nothing more: what is new opens one of its own.
 */
export async function addKnowledge(
  actor: Actor,
  typedReference: string,
  known: FurtherKnowledge,
  now = new Date(),
): Promise<IncidentAnswer> {
  const reference = readIncidentReference(typedReference);
  if (reference === null || !may(actor, "raise-safety")) return notFound;
  if (known.knownAt > now)
    return { ok: false, field: "knownAt", sentence: "It cannot have become known in the future." };
  const incident = await asActor(actor, (tx) => tx.incident.findUnique({ where: { reference }, select: { id: true } }));
  if (incident === null) return notFound;
  const contents: IncidentEntryContent[] = [
    ...tellingsOf({ knowledge: [knowledgeOf(known)], flags: known.flags }),
    ...(known.country === "" ? [] : [{ kind: "place" as const, country: known.country }]),
  ];
  // As the system: whoever tells something may not read the entries it is appended to, and its number follows the last.
  const isKept = await tellMore(actor, incident.id, contents, now, (tx) =>
    flagForMore(tx, actor, incident.id, known, now),
  );
  return isKept ? { ok: true, reference } : closedBefore;
}

/** Signs told later weigh like those told first: what is going on forbids to move the pack from then on. */
async function flagForMore(
  tx: Transaction,
  actor: Actor,
  incidentId: string,
  { flags, note }: FurtherKnowledge,
  now: Date,
): Promise<void> {
  if (flags.length === 0) return;
  const incident = await tx.incident.findUnique({
    where: { id: incidentId, closing: null },
    select: {
      packId: true,
      returnId: true,
      return: { select: { dealer: { select: { timeZone: true } } } },
      dealer: { select: { timeZone: true } },
    },
  });
  // A closed one takes nothing more: what is told then raises its flag with the incident it opens.
  if (incident === null || incident.packId === null) return;
  const { packId, returnId } = incident;
  await lockPack(tx, packId);
  const zone = incident.return?.dealer.timeZone ?? incident.dealer?.timeZone ?? "UTC";
  const asked = flagOfIncident(flags);
  const stands = await raiseFlag(tx, actor, { packId, returnId, asked, reason: note, facts: { flags }, at: now, zone });
  if (returnId !== null) await rankAnew(tx, returnId, { from: stands, to: stands });
}

function knowledgeOf({ how, knownAt, note }: FurtherKnowledge): IncidentFacts["knowledge"][number] {
  return { kind: how, at: knownAt, note };
}

export const closedBefore: IncidentAnswer = {
  ok: false,
  sentence: "This incident is closed. Open a new one for what is new.",
};

const notFound: IncidentAnswer = { ok: false, sentence: "There is no such return or incident for you." };
