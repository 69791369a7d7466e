import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readReturnReference } from "@/lib/returns/return-reference";
import type { FurtherKnowledge, IncidentEntryContent } from "@/lib/safety/incident-entry.schema";
import { incidentFlagLabels } from "@/lib/safety/incident-flags";
import { readIncidentReference } from "@/lib/safety/incident-reference";
import { asActor } from "../database";
import { type IncidentFacts, openIncident, tellingsOf } from "./open-incident";
import { flagPack } from "./raise-danger";
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
    const flag = { asked: "isolate", reason, facts: {}, occasion: `incident ${now.toISOString()}` } as const;
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
  const isKept = await tellMore(actor, incident.id, contents, now);
  return isKept ? { ok: true, reference } : closedBefore;
}

function knowledgeOf({ how, knownAt, note }: FurtherKnowledge): IncidentFacts["knowledge"][number] {
  return { kind: how, at: knownAt, note };
}

export const closedBefore: IncidentAnswer = {
  ok: false,
  sentence: "This incident is closed. Open a new one for what is new.",
};

const notFound: IncidentAnswer = { ok: false, sentence: "There is no such return or incident for you." };
