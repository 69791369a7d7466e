import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { isGrave } from "@/lib/diagnosis/finding";
import { graveWarning } from "@/lib/diagnosis/grave-warning";
import { readSerial } from "@/lib/packs/serial";
import { serialSentence } from "@/lib/packs/serial-sentence";
import type { ColumnAnswers, FileQuestions } from "@/lib/readings/column-questions";
import { readingFileEmpty, readingFileTooLarge } from "@/lib/readings/file-limit";
import { countAttempt } from "../accounts/attempt-limits";
import { asActor, asSystem, type Transaction } from "../database";
import { readPackFacts } from "../packs/pack-facts";
import { unknownSerial, zoneOfDealer } from "../packs/packs";
import { readFileHead } from "../reading-worker/file-head";
import { type ReadAnswer, readingPool } from "../reading-worker/reading-pool";
import type { ColumnKnowledge, ReadingProgress, ReadReport } from "../reading-worker/reading-task";
import { isKeptAsEvidenceAsSystem } from "../safety/kept-as-evidence";
import type { FurtherNote } from "../safety/open-incident";
import { appendNote } from "../safety/raise-danger";
import { raiseFromUpload } from "../safety/raise-from-upload";
import { tellUnkeptDanger } from "../safety/unkept-danger";
import { returnForReadings } from "./add-readings";
import { readRememberedColumns, rememberColumns } from "./column-mappings";
import { readDiagnosisFacts } from "./diagnosis-facts";
import { keepFile, receiveFile, reopenFile } from "./file-store";
import { type HeldUpload, holdUpload, pathOfHeld, releaseUpload, takeHeld } from "./held-upload";
import type { ReadingFileCard } from "./reading-file-card";
import { storeReadings, whyNotThisPack } from "./store-readings";
import { sweepAbandonedUploads } from "./sweep-uploads";

export interface ReadingsUpload {
  /** As typed or chosen on the form. */
  readonly serial: string;
  /** The open return it is brought for; missing while its form was not sent. */
  readonly reference?: string | undefined;
  readonly fileName: string;
  readonly chunks: AsyncIterable<Uint8Array>;
}

export type Refused = { readonly ok: false; readonly sentence: string };

export type ReceivedReadings = { readonly ok: true; readonly heldId: string } | Refused;

export type KeptReadings = { readonly ok: true; readonly file: ReadingFileCard } | Refused | AskedAboutColumns;

/** The columns must be confirmed first; the file is held meanwhile, so that it need not be sent again. */
export interface AskedAboutColumns {
  readonly ok: false;
  readonly sentence: string;
  readonly ask: FileQuestions & { readonly heldId: string; readonly timeZone: string; readonly danger: string | null };
}

export interface ReadingWatch {
  /** The person went away or changed their mind: the reading ends at once and nothing is kept. */
  readonly signal?: AbortSignal;
  readonly onProgress?: (progress: ReadingProgress) => void;
}

/** What is said about the columns of a file with the request to read it. */
export interface ColumnWish {
  readonly answers?: ColumnAnswers;
  readonly ask?: ColumnKnowledge["ask"];
}

/** Both halves in one: takes a file for a pack, reads it, and keeps it with what was found. */
export async function keepReadings(
  actor: Actor,
  upload: ReadingsUpload,
  watch: ReadingWatch = {},
): Promise<KeptReadings> {
  const received = await receiveReadings(actor, upload);
  return received.ok ? readReceived(actor, received.heldId, watch) : received;
}

/**
 * First half: takes the bytes of a readings file for a pack and holds them, unread, for the person who sent them. Nothing stays
 * behind where the file is refused here.
 */
export async function receiveReadings(actor: Actor, upload: ReadingsUpload): Promise<ReceivedReadings> {
  const place = await whereTo(actor, upload.reference);
  if (typeof place === "string") return refused(place);
  const serialReading = readSerial(upload.serial);
  if (serialReading.kind !== "serial") return refused(serialSentence(serialReading));
  const attempt = await countAttempt("readings-upload", actor.userId);
  if (attempt.kind === "refused") {
    return refused(`Too many files in a short time. Try again in ${attempt.waitMinutes} minutes.`);
  }
  const { serial } = serialReading;
  const { dealerId, returnId } = place;
  if (place.serial !== null && place.serial !== serial) return refused(notThatPack);
  // As the system: any dealer may bring any pack, and its facts may lie with another dealer's sale.
  if ((await asSystem((tx) => readPackFacts(tx, serial))) === null) return refused(unknownSerial);
  if (readingPool().isFull()) return refused(busy);
  const received = await receiveFile(upload.chunks);
  if (received.kind === "empty") return refused(readingFileEmpty);
  if (received.kind === "too-large") return refused(readingFileTooLarge);
  const { temporaryPath, sha256, sizeBytes } = received;
  const facts = {
    dealerId,
    userId: actor.userId,
    serial,
    returnId,
    fileName: upload.fileName,
    sha256,
    sizeBytes,
    told: null,
  };
  return { ok: true, heldId: await holdUpload(temporaryPath, facts) };
}

interface UploadPlace {
  readonly dealerId: string;
  readonly returnId: string | null;
  /** Of the pack in the return; null while there is none. */
  readonly serial: string | null;
}

/** Whose the file is to be: the sender's own before a form is sent, the return's dealer's once there is one; else why not. */
async function whereTo(actor: Actor, reference: string | undefined): Promise<UploadPlace | string> {
  const { dealerId } = actor;
  if (reference === undefined) {
    if (!may(actor, "upload-readings") || dealerId === null) return notTheDealer;
    return { dealerId, returnId: null, serial: null };
  }
  const open = await returnForReadings(actor, reference);
  return typeof open === "string" ? open : { dealerId: open.dealerId, returnId: open.id, serial: open.serial };
}

/**
 * Second half: decodes and diagnoses the held file in a thread of its own, and keeps it with what was found. It belongs to no
 * return until the form is sent. Nothing stays behind where the file cannot be used or the reading is called off.
 */
export async function readReceived(
  actor: Actor,
  heldId: string,
  watch: ReadingWatch = {},
  wish: ColumnWish = {},
): Promise<KeptReadings> {
  const held = await takeHeld(actor, heldId);
  if (held === null) return refused(noLongerHeld);
  let isAsked = false;
  let isKept = false;
  try {
    const kept = await readHeld(actor, held, watch, wish);
    isAsked = "ask" in kept;
    isKept = kept.ok;
    return kept;
  } finally {
    if (!isAsked) await letGo(actor, heldId, isKept);
  }
}

/** Lets a file go that waits for answers about its columns: its sender chose another one. Does nothing where it is not held for them. */
export async function letHeldGo(actor: Actor, heldId: string): Promise<void> {
  await letGo(actor, heldId, false);
}

/**
 * What a danger was told by, and what is of a pack that is evidence, is left to the sweep, which asks again whether it stays; once
 * kept, its bytes lie elsewhere.
 */
async function letGo(actor: Actor, heldId: string, isKept: boolean): Promise<void> {
  const held = await takeHeld(actor, heldId);
  if (held === null) return;
  if (isKept || (held.told === null && !(await isKeptAsEvidenceAsSystem(held.serial)))) await releaseUpload(held.id);
}

/** Opens the questions about the columns of a file again that was read but not sent with a form yet. */
export async function askAgain(actor: Actor, fileId: string, watch: ReadingWatch = {}): Promise<KeptReadings> {
  const row = await asActor(actor, (tx) =>
    tx.readingFile.findFirst({
      where: { id: fileId, returnId: null },
      select: {
        serial: true,
        fileName: true,
        sha256: true,
        sizeBytes: true,
        dealerId: true,
        uploadedByUserId: true,
        broughtForId: true,
      },
    }),
  );
  if (row === null) return refused(noLongerHeld);
  const { uploadedByUserId, broughtForId: returnId, ...file } = row;
  const isTheirs = may(actor, "upload-readings")
    ? file.dealerId === actor.dealerId
    : may(actor, "add-readings") && uploadedByUserId === actor.userId;
  if (!isTheirs) return refused(noLongerHeld);
  const facts = { ...file, sizeBytes: Number(file.sizeBytes), userId: actor.userId, returnId, told: null };
  const heldId = await holdUpload(await reopenFile(row.sha256), facts);
  return readReceived(actor, heldId, watch, { ask: "always" });
}

async function readHeld(
  actor: Actor,
  held: HeldUpload,
  watch: ReadingWatch,
  { answers, ask = "when-unsure" }: ColumnWish,
): Promise<KeptReadings> {
  const { sha256, sizeBytes, fileName, dealerId } = held;
  const serialReading = readSerial(held.serial);
  if (serialReading.kind !== "serial") return refused(serialSentence(serialReading));
  const { serial } = serialReading;
  // As the system, as when it was received.
  const known = await asSystem((tx) => readDiagnosisFacts(tx, serial));
  if (known === null) return refused(unknownSerial);
  const { context, baseline } = known;
  const model = known.pack.model.facts;
  const temporaryPath = pathOfHeld(held.id);
  const { shapeHash } = readFileHead(temporaryPath, sizeBytes);
  const remembered = shapeHash === null ? null : await readRememberedColumns(actor, dealerId, shapeHash);
  const columns = { answers: answers ?? null, remembered, ask };
  const answer = await readingPool().readFile({
    path: temporaryPath,
    sizeBytes,
    model,
    context,
    baseline,
    builtOn: known.pack.builtOn,
    receivedUnixS: Date.now() / 1000,
    columns,
    ...watch,
  });
  if (answer.kind === "ask") {
    const { questions, shows } = answer;
    if (shows !== null) await tellUnkeptDanger(actor, held, serial, shows);
    const timeZone = await asActor(actor, (tx) => zoneOfDealer(tx, dealerId));
    const danger = shows === null ? null : graveWarning(shows.findings);
    return { ok: false, sentence: columnsNotSure, ask: { ...questions, heldId: held.id, timeZone, danger } };
  }
  if (answer.kind !== "report") return refused(sayUnread(answer));
  const misfit = whyNotThisPack(answer.summary, serial, model);
  if (misfit !== null) {
    const { findings } = answer.diagnosis;
    await tellUnkeptDanger(actor, held, serial, { findings, summary: answer.summary });
    const warning = graveWarning(findings);
    return refused(warning === null ? misfit : `${warning} ${ofThatPack} ${misfit}`);
  }
  watch.signal?.throwIfAborted();
  // From here on a failure leaves the bytes to a later sweep: another upload of the same bytes may be about to name them.
  await keepFile(temporaryPath, sha256);
  await sweepAbandonedUploads(actor, sha256);
  const { returnId } = held;
  const alreadyTold = held.told?.dangers ?? [];
  const facts = { actor, dealerId, serial, fileName, sha256, sizeBytes, returnId, alreadyTold };
  const isGraveFile = answer.diagnosis.findings.some(({ safetyClass }) => isGrave(safetyClass));
  // As the system where the file shows a danger: the flag of a pack without a return is no dealer's to write.
  const run = isGraveFile ? asSystem : (work: StoringWork) => asActor(actor, work);
  let further: FurtherNote | null = null;
  const file = await run(async (tx) => {
    if (isGraveFile) further = await raiseFromUpload(tx, actor, facts, answer.diagnosis.findings);
    if (answers !== undefined && answer.shapeHash !== null)
      await rememberColumns(tx, { userId: actor.userId, dealerId, shapeHash: answer.shapeHash }, answers);
    return storeReadings(tx, { ...facts, columnAnswers: answer.answers }, withColumnRemark(answer));
  });
  if (further !== null) await appendNote(actor, further, new Date());
  return { ok: true, file };
}

type StoringWork = (tx: Transaction) => Promise<ReadingFileCard>;

function withColumnRemark(report: ReadReport): ReadReport {
  if (report.columnsFrom === "headings") return report;
  const remark =
    report.columnsFrom === "answers"
      ? "The columns were read as you confirmed; the next file with this header is read the same way."
      : "The columns were read as confirmed for an earlier file with this header.";
  return { ...report, summary: { ...report.summary, remarks: [remark, ...report.summary.remarks] } };
}

const columnsNotSure = "Please check what the columns of this file are.";
const ofThatPack = "This holds for the pack the file was read from.";
const notTheDealer = "Readings are added by the dealer who lodges the return.";
const notThatPack = "This return is for another pack. Add readings of the pack it is about.";
const noLongerHeld = "This file is no longer held here. Choose it again.";
const busy = "Several long files are being read just now. Choose the file again in a minute; your answers are kept.";

function sayUnread(answer: Exclude<ReadAnswer, { kind: "report" | "ask" }>): string {
  switch (answer.kind) {
    case "unusable":
      return answer.sentence;
    case "busy":
      return busy;
    case "gave-up":
      return answer.why === "memory"
        ? "This file needs more memory than reading it may take. Export a shorter period around the fault, or fewer columns, and choose that file."
        : "Reading this file took too long and was stopped. Export a shorter period around the fault, or fewer columns, and choose that file.";
    default: {
      const never: never = answer;
      return never;
    }
  }
}

function refused(sentence: string): Refused {
  return { ok: false, sentence };
}
