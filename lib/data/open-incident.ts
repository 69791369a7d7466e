import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readReturnReference } from "@/lib/returns/return-reference";
import type { Knowledge } from "@/lib/safety/first-knowledge";
import type { FurtherKnowledge, IncidentEntryContent } from "@/lib/safety/incident-entry.schema";
import { flagsIn, type IncidentFlag } from "@/lib/safety/incident-flags";
import { makeIncidentReference, readIncidentReference } from "@/lib/safety/incident-reference";
import { asActor, asSystem, type Transaction } from "./database";
import { queueNotice } from "./notices";

export interface IncidentFacts {
  readonly packId: string;
  readonly returnId: string;
  readonly dealerId: string;
  readonly country: string;
  /** Empty where it was told in words alone. */
  readonly flags: readonly IncidentFlag[];
  readonly knowledge: readonly (Knowledge & { readonly note: string })[];
}

/** Opens an incident with its first entries, in the transaction of whatever made it known. */
export async function openIncident(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name">,
  facts: IncidentFacts,
  now: Date,
): Promise<string> {
  const { packId, returnId, dealerId } = facts;
  const incident = await tx.incident.create({
    data: {
      reference: await nextReference(tx, now),
      packId,
      returnId,
      dealerId,
      openedAt: now,
      openedByUserId: actor.userId,
      openedByName: actor.name,
    },
    select: { id: true, reference: true },
  });
  const contents: IncidentEntryContent[] = [
    ...facts.knowledge.map(({ kind, at, note }) => ({
      kind: "knowledge" as const,
      how: kind,
      knownAt: at.toISOString(),
      note,
    })),
    ...(facts.flags.length === 0 ? [] : [{ kind: "flags" as const, flags: [...facts.flags] }]),
    { kind: "place", country: facts.country },
  ];
  await appendEntries(tx, actor, incident.id, 0, contents, now);
  await tellDealerOfIncident(tx, { returnId, dealerId }, incident.reference);
  return incident.reference;
}

/** The dealer may have a duty of its own to tell an authority, whoever opened the incident. */
async function tellDealerOfIncident(
  tx: Transaction,
  { returnId, dealerId }: Pick<IncidentFacts, "returnId" | "dealerId">,
  occasion: string,
): Promise<void> {
  const { reference } = await tx.return.findUniqueOrThrow({ where: { id: returnId }, select: { reference: true } });
  await queueNotice(tx, { kind: "safety", reference, returnId, occasion, to: { dealerId } });
}

/** Several rows at once and none read back: a dealer writes what it knows and may not read what follows from it. */
async function appendEntries(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name">,
  incidentId: string,
  after: number,
  contents: readonly IncidentEntryContent[],
  now: Date,
): Promise<void> {
  await tx.incidentEntry.createMany({
    data: contents.map((content, index) => ({
      incidentId,
      sequence: after + index + 1,
      kind: content.kind,
      content,
      at: now,
      byUserId: actor.userId,
      byName: actor.name,
    })),
  });
}

/** Appends after the last entry; of two people at once the second breaks the unique sequence. */
export async function appendAfterLast(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name">,
  incidentId: string,
  contents: readonly IncidentEntryContent[],
  now: Date,
): Promise<void> {
  const last = await tx.incidentEntry.findFirst({
    where: { incidentId },
    orderBy: { sequence: "desc" },
    select: { sequence: true },
  });
  await appendEntries(tx, actor, incidentId, last?.sequence ?? 0, contents, now);
}

/**
 * Opens an incident for a return that is being lodged where the danger signs or the readings raise a flag. To be called
 * in the transaction of the lodging, when the readings file has its return. The reading of the file counts as knowledge
 * from the moment it was analysed, which lies before the form was sent.
 */
export async function openIncidentForReturn(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name">,
  returnId: string,
  now: Date,
): Promise<string | null> {
  const row = await tx.return.findUniqueOrThrow({
    where: { id: returnId },
    select: {
      packId: true,
      dealerId: true,
      dangerSigns: true,
      conditions: true,
      concern: true,
      dealer: { select: { country: true } },
      readingFile: { select: { uploadedAt: true, findings: { select: { fault: true, safetyClass: true } } } },
    },
  });
  const { readingFile, dangerSigns, conditions } = row;
  const findings = readingFile?.findings ?? [];
  const flags = flagsIn({ dangerSigns, conditions, findings });
  if (flags.length === 0) return null;
  const fileSpeaks = flagsIn({ dangerSigns: [], conditions: [], findings }).length > 0;
  return openIncident(
    tx,
    actor,
    {
      packId: row.packId,
      returnId,
      dealerId: row.dealerId,
      country: row.dealer.country,
      flags,
      knowledge: [
        { kind: "dealer-entry", at: now, note: row.concern },
        ...(fileSpeaks && readingFile !== null
          ? [
              {
                kind: "file-analysis" as const,
                at: readingFile.uploadedAt,
                note: "Found when the readings file came in.",
              },
            ]
          : []),
      ],
    },
    now,
  );
}

export type IncidentAnswer =
  | { readonly ok: true; readonly reference: string }
  | { readonly ok: false; readonly sentence: string };

/** Opens an incident by hand on a return, with what became known; anyone may who sees the return. */
export async function raiseIncident(
  actor: Actor,
  typedReference: string,
  known: FurtherKnowledge,
  now = new Date(),
): Promise<IncidentAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "raise-safety")) return notFound;
  if (known.knownAt > now) return { ok: false, sentence: "It cannot have become known in the future." };
  if (known.flags.length === 0) return { ok: false, sentence: "Choose at least one thing that happened." };
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({
      where: { reference: reading.reference },
      select: { id: true, packId: true, dealerId: true, dealer: { select: { country: true } } },
    });
    if (row === null) return notFound;
    const reference = await openIncident(
      tx,
      actor,
      {
        packId: row.packId,
        returnId: row.id,
        dealerId: row.dealerId,
        country: known.country === "" ? row.dealer.country : known.country,
        flags: known.flags,
        knowledge: [{ kind: known.how, at: known.knownAt, note: known.note }],
      },
      now,
    );
    return { ok: true, reference };
  });
}

/** Adds what more became known. It can move first knowledge earlier, never later. */
export async function addKnowledge(
  actor: Actor,
  typedReference: string,
  known: FurtherKnowledge,
  now = new Date(),
): Promise<IncidentAnswer> {
  const reference = readIncidentReference(typedReference);
  if (reference === null || !may(actor, "raise-safety")) return notFound;
  if (known.knownAt > now) return { ok: false, sentence: "It cannot have become known in the future." };
  const incident = await asActor(actor, (tx) => tx.incident.findUnique({ where: { reference }, select: { id: true } }));
  if (incident === null) return notFound;
  const contents: IncidentEntryContent[] = [
    { kind: "knowledge", how: known.how, knownAt: known.knownAt.toISOString(), note: known.note },
    ...(known.flags.length === 0 ? [] : [{ kind: "flags" as const, flags: known.flags }]),
    ...(known.country === "" ? [] : [{ kind: "place" as const, country: known.country }]),
  ];
  // As the system: whoever tells something may not read the entries it is appended to, and its number follows the last.
  await asSystem((tx) => appendAfterLast(tx, actor, incident.id, contents, now));
  return { ok: true, reference };
}

const notFound: IncidentAnswer = { ok: false, sentence: "There is no such return or incident for you." };

async function nextReference(tx: Transaction, now: Date): Promise<string> {
  const [row] = await tx.$queryRaw<{ number: bigint }[]>`SELECT nextval('incident_reference_number') AS number`;
  if (row === undefined) throw new Error("The sequence of incidents gave no number");
  return makeIncidentReference(now.getUTCFullYear(), Number(row.number));
}
