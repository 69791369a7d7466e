import "server-only";
import type { Actor } from "@/lib/access/actor";
import type { Knowledge } from "@/lib/safety/first-knowledge";
import { factKinds } from "@/lib/safety/fold-incident";
import type { IncidentEntryContent } from "@/lib/safety/incident-entry.schema";
import { flagsIn, type IncidentFlag } from "@/lib/safety/incident-flags";
import { makeIncidentReference } from "@/lib/safety/incident-reference";
import { incidentHistoryEntry, linkTo } from "../chains/chained-rows";
import type { Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import { tellOfDanger } from "./tell-of-danger";

export interface IncidentFacts {
  /** Null where nobody can name the pack. */
  readonly packId: string | null;
  /** Null where it became known before any return was sent, or to somebody who knows of none. */
  readonly returnId: string | null;
  /** Null where the pack was at no dealer's. */
  readonly dealerId: string | null;
  readonly country: string;
  /** The unsent return it was told in, where that names no pack we know. */
  readonly draftKey?: string;
  /** Empty where it was told in words alone. */
  readonly flags: readonly IncidentFlag[];
  readonly knowledge: readonly (Knowledge & { readonly note: string })[];
}

/** What is to be appended to an incident that is open already. */
export interface FurtherNote {
  readonly incidentId: string;
  readonly facts: IncidentFacts;
}

/** Opens an incident with its first entries, in the transaction of whatever made it known. */
export async function openIncident(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name">,
  facts: IncidentFacts,
  now: Date,
): Promise<string> {
  const { packId, returnId, dealerId, draftKey = null } = facts;
  const incident = await tx.incident.create({
    data: {
      reference: await nextReference(tx, now),
      packId,
      returnId,
      dealerId,
      draftKey,
      openedAt: now,
      openedByUserId: actor.userId,
      openedByName: actor.name,
    },
    select: { id: true, reference: true },
  });
  const contents: IncidentEntryContent[] = [...tellingsOf(facts), { kind: "place", country: facts.country }];
  await appendEntries(tx, actor, incident.id, null, contents, now);
  await tellDealerOfIncident(tx, { returnId, dealerId }, incident.reference);
  return incident.reference;
}

/** What was told, as entries: how it became known, and the signs in it. */
export function tellingsOf({ knowledge, flags }: Pick<IncidentFacts, "knowledge" | "flags">): IncidentEntryContent[] {
  return [
    ...knowledge.map(({ kind, at, note }) => ({
      kind: "knowledge" as const,
      how: kind,
      knownAt: at.toISOString(),
      note,
    })),
    ...(flags.length === 0 ? [] : [{ kind: "flags" as const, flags: [...flags] }]),
  ];
}

/**
 * The dealer may have a duty of its own to tell an authority, whoever opened the incident. Without a return nothing else
 * tells the house of it.
 */
async function tellDealerOfIncident(
  tx: Transaction,
  { returnId, dealerId }: Pick<IncidentFacts, "returnId" | "dealerId">,
  occasion: string,
): Promise<void> {
  if (returnId === null) {
    const told = { reference: occasion, occasion: "opened" };
    if (dealerId !== null) await queueNotice(tx, { kind: "safety", ...told, to: { dealerId } });
    await tellOfDanger(tx, told);
    return;
  }
  if (dealerId === null) return;
  const { reference } = await tx.return.findUniqueOrThrow({ where: { id: returnId }, select: { reference: true } });
  await queueNotice(tx, { kind: "safety", reference, returnId, occasion, to: { dealerId } });
}

/** Several rows at once and none read back: a dealer writes what it knows and may not read what follows from it. */
async function appendEntries(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name">,
  incidentId: string,
  last: LastEntry | null,
  contents: readonly IncidentEntryContent[],
  now: Date,
): Promise<void> {
  const rows = [];
  let before: LastEntry | null = last;
  for (const content of contents) {
    const row = {
      incidentId,
      sequence: (before?.sequence ?? 0) + 1,
      kind: content.kind,
      content,
      at: now,
      byUserId: actor.userId,
      byName: actor.name,
    };
    const link = linkTo(before?.hash ?? null, incidentHistoryEntry(row, before), "incident-history-1");
    rows.push({ ...row, ...link });
    before = { ...row, hash: link.hash };
  }
  await tx.incidentEntry.createMany({ data: rows });
}

interface LastEntry {
  readonly sequence: number;
  readonly kind: string;
  /** Null in entries from before there was a chain. */
  readonly hash: string | null;
}

export type Appended =
  | { readonly kind: "appended"; readonly sequence: number }
  | { readonly kind: "closed" }
  | { readonly kind: "more-became-known" };

/**
 * Appends after the last entry, unless that one closed the incident, or something was told after what the author had
 * seen. Of two people at once the second breaks the unique sequence.
 */
export async function appendAfterLast(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name">,
  incidentId: string,
  contents: readonly IncidentEntryContent[],
  now: Date,
  seenEntries?: number,
): Promise<Appended> {
  const last = await tx.incidentEntry.findFirst({
    where: { incidentId },
    orderBy: { sequence: "desc" },
    select: { sequence: true, kind: true, hash: true },
  });
  if (last?.kind === "closed") return { kind: "closed" };
  if (seenEntries !== undefined) {
    const unseen = { incidentId, kind: { in: [...factKinds] }, sequence: { gt: seenEntries } };
    if ((await tx.incidentEntry.count({ where: unseen })) > 0) return { kind: "more-became-known" };
  }
  await appendEntries(tx, actor, incidentId, last, contents, now);
  return { kind: "appended", sequence: (last?.sequence ?? 0) + contents.length };
}

/**
 * Opens an incident for a return that is being lodged where the danger signs or the readings raise a flag. To be called
 * in the transaction of the lodging, when the readings file has its return. The reading of the file counts as knowledge
 * from the moment it was analysed, which lies before the form was sent, and so does a danger kept in the unsent return.
 * An incident that was opened then becomes this return's; what comes back is to be appended to it after the transaction.
 */
export async function openIncidentForReturn(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name">,
  returnId: string,
  now: Date,
  toldSince: Date | null = null,
): Promise<FurtherNote | null> {
  const row = await tx.return.findUniqueOrThrow({
    where: { id: returnId },
    select: {
      packId: true,
      dealerId: true,
      clientKey: true,
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
  const ofDraft = { dealerId: row.dealerId, draftKey: row.clientKey, packId: null, returnId: null, closing: null };
  await tx.incident.updateMany({ where: ofDraft, data: { packId: row.packId } });
  const early = { packId: row.packId, dealerId: row.dealerId, returnId: null, closing: null };
  const opened = await tx.incident.findFirst({ where: early, select: { id: true }, orderBy: { openedAt: "asc" } });
  if (opened === null && flags.length === 0) return null;
  const fileSpeaks = flagsIn({ dangerSigns: [], conditions: [], findings }).length > 0;
  const facts: IncidentFacts = {
    packId: row.packId,
    returnId,
    dealerId: row.dealerId,
    country: row.dealer.country,
    flags,
    knowledge: [
      { kind: "dealer-entry", at: toldSince ?? now, note: row.concern },
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
  };
  if (opened !== null) {
    await tx.incident.updateMany({ where: early, data: { returnId } });
    return { incidentId: opened.id, facts };
  }
  await openIncident(tx, actor, facts, now);
  return null;
}

async function nextReference(tx: Transaction, now: Date): Promise<string> {
  const [row] = await tx.$queryRaw<{ number: bigint }[]>`SELECT nextval('incident_reference_number') AS number`;
  if (row === undefined) throw new Error("The sequence of incidents gave no number");
  return makeIncidentReference(now.getUTCFullYear(), Number(row.number));
}
