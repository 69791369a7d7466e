import "server-only";
import type { Actor } from "@/lib/access/actor";
import { classesThatStayTold } from "@/lib/diagnosis/finding";
import { dangerTold } from "@/lib/returns/danger-signs";
import { riskRank, riskRankUnderFlag } from "@/lib/returns/risk-rank";
import { graverOf, isSetApart, type SafetyState } from "@/lib/returns/safety-track";
import type { Prisma } from "@/prisma/generated/client";
import { asSystem, type Transaction } from "../database";
import type { MoverName } from "../returns/history";
import { lockPack, openTrack, readPackTracks, recordStep } from "../returns/track-rows";
import { type FurtherNote, type IncidentFacts, openIncident, tellingsOf } from "./open-incident";
import { tellMore } from "./tell-more";
import { tellOfDanger } from "./tell-of-danger";

export interface FlagToRaise {
  readonly packId: string;
  /** Null where it became known before any return was sent. */
  readonly returnId: string | null;
  readonly asked: SafetyState;
  readonly reason: string;
  readonly facts: Prisma.InputJsonObject;
  readonly at: Date;
  readonly zone: string;
  /** Told in words: kept as a step of its own also where the flag is that grave already, because it is news of the pack. */
  readonly isTold?: boolean;
}

/** Raises the flag of a pack whose lock this transaction holds, and says how it stands: one that is graver already stays. */
export async function raiseFlag(tx: Transaction, actor: MoverName, raised: FlagToRaise): Promise<SafetyState> {
  const { packId, asked, isTold = false, facts, ...step } = raised;
  const { safety } = await readPackTracks(tx, packId);
  const to = graverOf(safety.state, asked);
  if (to === safety.state && !isTold) return to;
  const trackId = safety.id ?? (await openTrack(tx, actor, { track: "safety", packId }, safety.state));
  const version = safety.version + 1;
  const kept = isTold ? { ...facts, told: true } : facts;
  const isRecorded = await recordStep(tx, actor, trackId, { ...step, facts: kept, from: safety.state, to, version });
  if (!isRecorded) throw new Error(`The safety of pack ${packId} moved although it was locked`);
  return to;
}

/** The return under which a pack is flagged. */
export interface FlaggedPack {
  readonly id: string;
  readonly reference: string;
  readonly packId: string;
  readonly dealer: { readonly timeZone: string };
}

/** Puts a return into the queue anew after the flag of its pack moved: raised to the head, lowered back to where it was. */
export async function rankAnew(
  tx: Transaction,
  returnId: string,
  flag: { readonly from: SafetyState; readonly to: SafetyState },
): Promise<void> {
  const row = await tx.return.findUniqueOrThrow({
    where: { id: returnId },
    select: {
      dangerSigns: true,
      caseClass: true,
      readingFile: {
        select: { findings: { select: { safetyClass: true } }, suggestion: { select: { remedy: true } } },
      },
      readingFiles: {
        select: {
          findings: { select: { safetyClass: true }, where: { safetyClass: { in: [...classesThatStayTold] } } },
        },
      },
    },
  });
  const danger = dangerTold(row.dangerSigns);
  // Whoever lowers the flag has judged the case with it.
  const caseClass = graverOf(flag.from, flag.to) === flag.to ? row.caseClass : null;
  const findings = [...(row.readingFile?.findings ?? []), ...row.readingFiles.flatMap((file) => file.findings)];
  const classes = [...findings.map(({ safetyClass }) => safetyClass), ...(caseClass === null ? [] : [caseClass])];
  const remedy = row.readingFile?.suggestion?.remedy ?? null;
  await tx.return.updateMany({
    where: { id: returnId },
    data: { caseClass, riskRank: riskRankUnderFlag(flag, riskRank(danger.kind, classes, remedy)) },
  });
}

/** The same where something else became known: a pack that is set apart keeps the place its flag gave it. */
export async function rankByFindings(
  tx: Transaction,
  { id, packId }: { readonly id: string; readonly packId: string },
) {
  const { safety } = await readPackTracks(tx, packId);
  if (!isSetApart(safety.state)) await rankAnew(tx, id, { from: safety.state, to: safety.state });
}

export interface PackFlag extends Omit<FlagToRaise, "packId" | "returnId" | "at" | "zone"> {
  readonly occasion: string;
}

/** Sets a pack apart, puts its return to the head of the queue and tells those who must know, before anyone else moves it. */
export async function flagPack(
  tx: Transaction,
  actor: MoverName,
  { id: returnId, reference, packId, dealer }: FlaggedPack,
  { occasion, ...flag }: PackFlag,
  at: Date,
): Promise<void> {
  await lockPack(tx, packId);
  const stands = await raiseFlag(tx, actor, { ...flag, packId, returnId, at, zone: dealer.timeZone });
  await rankAnew(tx, returnId, { from: stands, to: stands });
  await tellOfDanger(tx, { returnId, reference, occasion });
}

/** The same for a danger in readings that came after the return was lodged: one file is told of once. */
export function flagForReadings(
  tx: Transaction,
  actor: MoverName,
  pack: FlaggedPack,
  sha256: string,
  at: Date,
): Promise<void> {
  const reason = "Readings that were added to the return show a danger.";
  return flagPack(tx, actor, pack, { asked: "isolate", reason, facts: {}, occasion: `readings ${sha256}` }, at);
}

/**
 * Opens an incident for what was told or seen, unless one of this pack is open: then that one's id comes back, and what is
 * new is appended to it (`appendNote`) once this transaction is over, because its author may not read the entries it follows.
 */
export async function openIncidentUnlessOpen(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name">,
  facts: IncidentFacts,
  now: Date,
): Promise<FurtherNote | null> {
  const { packId, dealerId, draftKey } = facts;
  // Of two packs that nobody can name nobody knows whether they are one: only the same unsent return tells of the same.
  const which = packId !== null ? { packId } : draftKey !== undefined ? { packId, dealerId, draftKey } : null;
  const open =
    which === null
      ? null
      : await tx.incident.findFirst({
          where: { ...which, closing: null },
          select: { id: true },
          orderBy: { openedAt: "asc" },
        });
  if (open !== null) return { incidentId: open.id, facts };
  await openIncident(tx, actor, facts, now);
  return null;
}

/** Appends to the incident that was open, outside every transaction; where it was closed meanwhile a new one is opened. */
export async function appendNote(
  actor: Pick<Actor, "userId" | "name">,
  { incidentId, facts }: FurtherNote,
  now: Date,
): Promise<void> {
  if (await tellMore(actor, incidentId, tellingsOf(facts), now)) return;
  await asSystem((tx) => openIncident(tx, actor, facts, now));
}
