import "server-only";
import type { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { isGrave } from "@/lib/diagnosis/finding";
import { readSerial } from "@/lib/packs/serial";
import type { addReadingsSchema } from "@/lib/returns/add-readings.schema";
import { caseMoves } from "@/lib/returns/case-moves";
import { dangerTold } from "@/lib/returns/danger-signs";
import { symptoms } from "@/lib/returns/symptoms";
import { flagsIn } from "@/lib/safety/incident-flags";
import { readCoverOutcome } from "@/lib/warranty/cover";
import { fromDateColumn } from "../calendar-columns";
import { asActor, asSystem, type Transaction } from "../database";
import { readPackFacts } from "../packs/pack-facts";
import { type MoveAnswer, makeMoveIn, refusedMove } from "../returns/move-return";
import { openIncident } from "../safety/open-incident";
import { flagForReadings, rankByFindings } from "../safety/raise-danger";
import { attachReadings, classesOf } from "./attach-readings";
import { suggestAnew } from "./suggest-anew";
import { readSuggestionContext } from "./suggestion-context";
import { wasTakenOut } from "./take-readings-out";

export type AddedReadings = z.output<typeof addReadingsSchema>;

const notFound = { ok: false, reason: "not-found", sentence: "There is no such return for you." } as const;

/** The return to which somebody may bring readings now, for taking a file; else why not, as a sentence. */
export async function returnForReadings(
  actor: Actor,
  reference: string,
): Promise<
  { readonly id: string; readonly reference: string; readonly dealerId: string; readonly serial: string } | string
> {
  const { act, from } = caseMoves["add-readings"];
  const row = await asActor(actor, (tx) => tx.return.findUnique({ where: { reference }, select: placeSelect }));
  if (row === null || act === null || !may(actor, act)) return notFound.sentence;
  if (!from.some((status) => status === row.status)) return noMore;
  return { ...row, serial: row.pack.serial };
}

const placeSelect = {
  id: true,
  reference: true,
  dealerId: true,
  status: true,
  pack: { select: { serial: true } },
} as const;

const noMore =
  "No more readings can be added as this return stands: something is proposed or decided on those it has, or it has ended. Have the proposal sent back, or object, first.";

/**
 * Adds readings to an open return: from now on they count, and those before stay beside them. The suggestion is made anew, a
 * danger in them sets the pack apart and opens an incident as at lodging, and the history names their SHA-256. In one transaction
 * as the system, because cover, lots and incidents behind it may be another dealer's; whose return and whose file it is is
 * asked of the person before.
 */
export async function addReadings(
  actor: Actor,
  reference: string,
  { fileId, why, seenVersion }: AddedReadings,
  now = new Date(),
): Promise<MoveAnswer> {
  const mine = await asActor(actor, async (tx) => {
    const found = await tx.return.findUnique({
      where: { reference },
      select: { dealerId: true, pack: { select: { serial: true } } },
    });
    if (found === null) return null;
    const where = { id: fileId, returnId: null, dealerId: found.dealerId, serial: found.pack.serial };
    const file = await tx.readingFile.findFirst({ where, select: { id: true, sha256: true } });
    return { file: file !== null && (await wasTakenOut(tx, file.id)) ? null : file };
  });
  if (mine === null) return notFound;
  const { file } = mine;
  const stated = file === null ? {} : { readings: file.sha256 };
  const request = { name: "add-readings", reason: why, seenVersion, stated } as const;
  try {
    return await asSystem(async (tx) => {
      const moved = await makeMoveIn(tx, actor, reference, request, now, { hasNewReadings: file !== null });
      if (moved.ok && file !== null) await takeReadings(tx, actor, reference, file.id, now);
      return moved;
    });
  } catch (error) {
    const answer = refusedMove(error);
    if (answer === null) throw error;
    return answer;
  }
}

async function takeReadings(
  tx: Transaction,
  actor: Actor,
  reference: string,
  fileId: string,
  now: Date,
): Promise<void> {
  const row = await tx.return.findUniqueOrThrow({ where: { reference }, include: { dealer: true, pack: true } });
  const serial = readSerial(row.pack.serial);
  const pack = serial.kind === "serial" ? await readPackFacts(tx, serial.serial) : null;
  if (pack === null) throw new RangeError(`${row.pack.serial}: a return of a pack nobody knows`);
  const cover = { outcome: readCoverOutcome(row.coverOutcome) };
  const known = await readSuggestionContext(tx, pack, fromDateColumn(row.toldOn), cover);
  const danger = dangerTold(row.dangerSigns);
  await suggestAnew(tx, fileId, {
    model: pack.model.facts,
    context: { ...known, ...complaintOf(row.symptom) },
    danger,
  });
  await attachReadings(tx, actor, { fileId, returnId: row.id, at: now });
  const file = await tx.readingFile.findUniqueOrThrow({
    where: { id: fileId },
    select: { sha256: true, uploadedAt: true, findings: { select: { fault: true, safetyClass: true } } },
  });
  if (classesOf(file.findings).some(isGrave)) {
    await flagForReadings(tx, actor, row, file.sha256, now);
  } else await rankByFindings(tx, row);
  await openForReadings(tx, actor, row, file, now);
}

/** None where an older release knew a complaint that this one does not. */
function complaintOf(stored: string) {
  const complaint = symptoms.find((known) => known === stored);
  return complaint === undefined ? {} : { complaint };
}

interface KnownReturn {
  readonly id: string;
  readonly packId: string;
  readonly dealerId: string;
  readonly dealer: { readonly country: string };
}

interface KnownFile {
  readonly uploadedAt: Date;
  readonly findings: readonly { readonly fault: string; readonly safetyClass: string }[];
}

/** What a danger in the file opened when it was read becomes this return's; where that was closed since, it is opened anew. */
async function openForReadings(
  tx: Transaction,
  actor: Actor,
  { id: returnId, packId, dealerId, dealer: { country } }: KnownReturn,
  { uploadedAt, findings }: KnownFile,
  now: Date,
): Promise<void> {
  const flags = flagsIn({ dangerSigns: [], conditions: [], findings });
  if (flags.length === 0) return;
  await tx.incident.updateMany({ where: { packId, dealerId, returnId: null, closing: null }, data: { returnId } });
  if ((await tx.incident.count({ where: { packId, closing: null } })) > 0) return;
  const note = "Found in readings that were added to the return.";
  const knowledge = [{ kind: "file-analysis", at: uploadedAt, note }] as const;
  await openIncident(tx, actor, { packId, returnId, dealerId, country, flags, knowledge }, now);
}
