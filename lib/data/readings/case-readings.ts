import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import {
  type CaseGapRead,
  findingOfGaps,
  gapsThatCount,
  largestJudgedGap,
  openCaseFinding,
  READING_AGREES_WITHIN_MM,
} from "@/lib/diagnosis/case-flatness";
import { type Finding, isGrave } from "@/lib/diagnosis/finding";
import { readReturnReference } from "@/lib/returns/return-reference";
import { lastLoweredAt } from "@/lib/returns/safety-track";
import type { IncidentFlag } from "@/lib/safety/incident-flags";
import type { CaseSign } from "@/lib/transport/propose-class";
import { asActor, type Transaction } from "../database";
import { type FlaggedPack, flagPack, rankByFindings } from "../safety/raise-danger";

export type CaseReadingAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: "not-allowed" | "not-found" };

/**
 * Keeps a straight-edge reading of the case, and sets the pack apart where its gap grew since it was built, as a swelling that is
 * told does. A reading is never changed: whoever doubts one takes another, and none is withdrawn by that until a named person judged it.
 */
export async function recordCaseReading(
  actor: Actor,
  typedReference: string,
  gapMillimetre: number,
  now = new Date(),
): Promise<CaseReadingAnswer> {
  if (!may(actor, "test-pack")) return { ok: false, reason: "not-allowed" };
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return { ok: false, reason: "not-found" };
  return asActor(actor, async (tx) => {
    const found = await tx.return.findUnique({ where: { reference: reading.reference }, select: caseSelect });
    if (found === null) return { ok: false, reason: "not-found" };
    const judgedAt = await caseJudgedAt(tx, found.packId);
    const before = gapsThatCount(found.caseReadings, judgedAt)?.largestMillimetre ?? null;
    await tx.caseReading.create({
      data: {
        returnId: found.id,
        gapMillimetre,
        readByUserId: actor.userId,
        readByName: actor.name,
        readAt: now,
      },
    });
    const caseReadings = [...found.caseReadings, { gapMillimetre, readAt: now }];
    const caseClass = findingOfCase({ ...found, caseReadings }, judgedAt)?.safetyClass ?? null;
    await tx.return.update({ where: { id: found.id }, data: { caseClass }, select: { id: true } });
    const gaps = { ...judgedGaps(found.pack, judgedAt), before, foundGapMillimetre: gapMillimetre };
    await setApartWhereGrown(tx, actor, found, gaps, now);
    await rankByFindings(tx, found);
    return { ok: true };
  });
}

const caseSelect = {
  id: true,
  reference: true,
  packId: true,
  dealer: { select: { timeZone: true } },
  pack: {
    select: {
      build: { select: { caseGapMillimetre: true } },
      returns: { select: { caseReadings: { select: { gapMillimetre: true, readAt: true } } } },
    },
  },
  caseReadings: { select: { gapMillimetre: true, readAt: true } },
} as const;

const swelling: IncidentFlag = "swelling";

/** One that grew beyond what two readings differ by is told of, and again once it grew so far beyond what was told or judged. */
async function setApartWhereGrown(
  tx: Transaction,
  actor: Actor,
  row: FlaggedPack,
  gaps: {
    readonly builtGapMillimetre: number | null;
    readonly judgedGapMillimetre: number | null;
    readonly before: number | null;
    readonly foundGapMillimetre: number;
  },
  at: Date,
): Promise<void> {
  const { before, foundGapMillimetre } = gaps;
  const grown = openCaseFinding(gaps);
  if (grown === null || !isGrave(grown.safetyClass)) return;
  const known = before === null ? null : openCaseFinding({ ...gaps, foundGapMillimetre: before });
  const isTold = known !== null && isGrave(known.safetyClass);
  if (isTold && before !== null && foundGapMillimetre - before <= READING_AGREES_WITHIN_MM) return;
  const facts = { flags: [swelling], gapMillimetre: foundGapMillimetre };
  const reason = `Read at the bench. ${grown.evidenceFor.join(" ")}`;
  const occasion = `case ${at.toISOString()}`;
  await flagPack(tx, actor, row, { asked: "isolate", reason, facts, isTold: true, occasion }, at);
}

/** When a named person last lowered the flag of the pack: what was read of its case before that is judged. */
export async function caseJudgedAt(tx: Transaction, packId: string): Promise<Date | null> {
  const track = await tx.track.findFirst({
    where: { packId, track: "safety" },
    select: { moves: { select: { from: true, to: true, at: true }, orderBy: { sequence: "asc" } } },
  });
  return lastLoweredAt(track?.moves ?? []);
}

interface CaseOfPack {
  readonly build: { readonly caseGapMillimetre: number | null } | null;
  readonly returns: readonly { readonly caseReadings: readonly CaseGapRead[] }[];
}

/** How the case was built, and what was judged of it under any return of the pack. */
function judgedGaps({ build, returns }: CaseOfPack, judgedAt: Date | null) {
  const builtGapMillimetre = build?.caseGapMillimetre ?? null;
  const ofPack = returns.flatMap(({ caseReadings }) => caseReadings);
  return { builtGapMillimetre, judgedGapMillimetre: largestJudgedGap(ofPack, builtGapMillimetre, judgedAt) };
}

/** What the readings of the case under a return come to that nobody has judged yet; null where they say nothing. */
export function findingOfCase(
  { caseReadings, pack }: { readonly caseReadings: readonly CaseGapRead[]; readonly pack: CaseOfPack },
  judgedAt: Date | null,
): Finding | null {
  const gaps = gapsThatCount(caseReadings, judgedAt);
  const { builtGapMillimetre, judgedGapMillimetre } = judgedGaps(pack, judgedAt);
  return gaps === null ? null : findingOfGaps(builtGapMillimetre, gaps, judgedGapMillimetre);
}

/** The same for the class a pack travels in: also what was judged since, which the person who declares looks at anew. */
export async function readCaseSign(tx: Transaction, returnId: string): Promise<CaseSign | null> {
  const row = await tx.return.findUniqueOrThrow({ where: { id: returnId }, select: caseSelect });
  if (row.caseReadings.length === 0) return null;
  const open = findingOfCase(row, await caseJudgedAt(tx, row.packId));
  const worst = open ?? findingOfCase(row, null);
  if (worst === null) return null;
  const { evidenceFor, safetyClass } = worst;
  return { sentence: evidenceFor.join(" "), safetyClass, isJudged: open === null };
}
