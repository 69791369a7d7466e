import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import {
  type CaseGapRead,
  caseFinding,
  findingOfGaps,
  gapsThatCount,
  READING_AGREES_WITHIN_MM,
} from "@/lib/diagnosis/case-flatness";
import { type Finding, isGrave } from "@/lib/diagnosis/finding";
import { readReturnReference } from "@/lib/returns/return-reference";
import { lastLoweredAt } from "@/lib/returns/safety-track";
import type { IncidentFlag } from "@/lib/safety/incident-flags";
import type { CaseSign } from "@/lib/transport/propose-class";
import { asActor, type Transaction } from "./database";
import { type FlaggedPack, flagPack } from "./raise-danger";

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
    const builtGapMillimetre = found.pack.build?.caseGapMillimetre ?? null;
    await setApartWhereGrown(tx, actor, found, { builtGapMillimetre, before, foundGapMillimetre: gapMillimetre }, now);
    return { ok: true };
  });
}

const caseSelect = {
  id: true,
  reference: true,
  packId: true,
  dealer: { select: { timeZone: true } },
  pack: { select: { build: { select: { caseGapMillimetre: true } } } },
  caseReadings: { select: { gapMillimetre: true, readAt: true } },
} as const;

const swelling: IncidentFlag = "swelling";

/** One that grew beyond what two readings differ by is told of, and again once it grew so far beyond the one that was told. */
async function setApartWhereGrown(
  tx: Transaction,
  actor: Actor,
  row: FlaggedPack,
  gaps: {
    readonly builtGapMillimetre: number | null;
    readonly before: number | null;
    readonly foundGapMillimetre: number;
  },
  at: Date,
): Promise<void> {
  const { builtGapMillimetre, before, foundGapMillimetre } = gaps;
  const grown = caseFinding({ builtGapMillimetre, foundGapMillimetre });
  if (grown === null || !isGrave(grown.safetyClass)) return;
  const known = before === null ? null : caseFinding({ builtGapMillimetre, foundGapMillimetre: before });
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

/** What the readings of the case come to that nobody has judged yet; null where they say nothing. */
export function findingOfCase(
  readings: readonly CaseGapRead[],
  builtGapMillimetre: number | null,
  judgedAt: Date | null,
): Finding | null {
  const gaps = gapsThatCount(readings, judgedAt);
  return gaps === null ? null : findingOfGaps(builtGapMillimetre, gaps);
}

/** The same for the class a pack travels in: also what was judged since, which the person who declares looks at anew. */
export async function readCaseSign(tx: Transaction, returnId: string): Promise<CaseSign | null> {
  const { packId, pack, caseReadings } = await tx.return.findUniqueOrThrow({
    where: { id: returnId },
    select: caseSelect,
  });
  if (caseReadings.length === 0) return null;
  const built = pack.build?.caseGapMillimetre ?? null;
  const open = findingOfCase(caseReadings, built, await caseJudgedAt(tx, packId));
  const worst = open ?? findingOfCase(caseReadings, built, null);
  if (worst === null) return null;
  const { evidenceFor, safetyClass } = worst;
  return { sentence: evidenceFor.join(" "), safetyClass, isJudged: open === null };
}
