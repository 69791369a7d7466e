import "server-only";
import type { Actor } from "@/lib/access/actor";
import { safetyClasses } from "@/lib/diagnosis/finding";
import { dangerAnswers, dangerOf } from "@/lib/returns/danger-signs";
import { riskRank, riskRankUnderFlag } from "@/lib/returns/risk-rank";
import { graverOf, type SafetyState } from "@/lib/returns/safety-track";
import type { KnowledgeKind } from "@/lib/safety/first-knowledge";
import type { IncidentFlag } from "@/lib/safety/incident-flags";
import type { Prisma } from "@/prisma/generated/client";
import { asSystem, type Transaction } from "./database";
import type { MoverName } from "./history";
import { queueNotice } from "./notices";
import { appendAfterLast, type IncidentFacts, openIncident } from "./open-incident";
import { openTrack, readPackTracks, recordStep } from "./track-rows";

export interface FlagToRaise {
  readonly packId: string;
  readonly returnId: string;
  readonly asked: SafetyState;
  readonly reason: string;
  readonly facts: Prisma.InputJsonObject;
  readonly at: Date;
  readonly zone: string;
}

/** Raises the flag of a pack whose lock this transaction holds; a flag that is graver already stays. */
export async function raiseFlag(tx: Transaction, actor: MoverName, raised: FlagToRaise): Promise<void> {
  const { packId, asked, ...step } = raised;
  const { safety } = await readPackTracks(tx, packId);
  const to = graverOf(safety.state, asked);
  if (to === safety.state) return;
  const trackId = safety.id ?? (await openTrack(tx, actor, { track: "safety", packId }, safety.state));
  const version = safety.version + 1;
  const isRecorded = await recordStep(tx, actor, trackId, { ...step, from: safety.state, to, version });
  if (!isRecorded) throw new Error(`The safety of pack ${packId} moved although it was locked`);
}

/** A return whose pack somebody flagged. */
export interface FlaggedReturn {
  readonly returnId: string;
  readonly reference: string;
  /** What made it known, so that the same occasion is told once. */
  readonly occasion: string;
}

/** Tells the safety officer and the service desk that a pack was flagged, in the transaction that flags it. */
export async function tellOfDanger(tx: Transaction, flagged: FlaggedReturn): Promise<void> {
  for (const role of ["safety-officer", "service-lead"] as const)
    await queueNotice(tx, { kind: "danger-raised", ...flagged, to: { role } });
}

/** Puts a return into the queue anew after the flag of its pack moved: raised to the head, lowered back to where it was. */
export async function rankAnew(
  tx: Transaction,
  returnId: string,
  flag: { readonly from: SafetyState; readonly to: SafetyState },
): Promise<void> {
  const row = await tx.return.findUniqueOrThrow({
    where: { id: returnId },
    select: { dangerSigns: true, readingFile: { select: { findings: { select: { safetyClass: true } } } } },
  });
  const danger = dangerOf(dangerAnswers.filter((answer) => row.dangerSigns.includes(answer)));
  const findings = row.readingFile?.findings ?? [];
  const found = safetyClasses.filter((known) => findings.some(({ safetyClass }) => safetyClass === known));
  await tx.return.updateMany({
    where: { id: returnId },
    data: { riskRank: riskRankUnderFlag(flag, riskRank(danger.kind, found)) },
  });
}

/**
 * Opens an incident for what was told or seen, unless one of this pack is open: then that one's id comes back, and what is
 * new is appended to it once this transaction is over, because its author may not read the entries it follows.
 */
export async function openIncidentUnlessOpen(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name">,
  facts: IncidentFacts,
  now: Date,
): Promise<string | null> {
  const open = await tx.incident.findFirst({
    where: { packId: facts.packId, closing: null },
    select: { id: true },
    orderBy: { openedAt: "asc" },
  });
  if (open !== null) return open.id;
  await openIncident(tx, actor, facts, now);
  return null;
}

export interface FurtherNote {
  readonly incidentId: string;
  readonly how: KnowledgeKind;
  readonly note: string;
  readonly flags: readonly IncidentFlag[];
}

/** As the system, outside every transaction: whoever tells something may not read the entries it is appended to. */
export function appendNote(
  actor: Pick<Actor, "userId" | "name">,
  { incidentId, how, note, flags }: FurtherNote,
  now: Date,
): Promise<void> {
  const knowledge = { kind: "knowledge" as const, how, knownAt: now.toISOString(), note };
  const contents = flags.length === 0 ? [knowledge] : [knowledge, { kind: "flags" as const, flags: [...flags] }];
  return asSystem((tx) => appendAfterLast(tx, actor, incidentId, contents, now));
}
