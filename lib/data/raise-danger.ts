import "server-only";
import type { Actor } from "@/lib/access/actor";
import { safetyClasses } from "@/lib/diagnosis/finding";
import { dangerAnswers, dangerOf } from "@/lib/returns/danger-signs";
import { riskRank, riskRankUnderFlag } from "@/lib/returns/risk-rank";
import type { SafetyState } from "@/lib/returns/safety-track";
import type { Transaction } from "./database";
import { queueNotice } from "./notices";
import { type IncidentFacts, openIncident } from "./open-incident";

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
