import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readSerial } from "@/lib/packs/serial";
import { serialSentence } from "@/lib/packs/serial-sentence";
import { readingFileEmpty, readingFileTooLarge } from "@/lib/readings/file-limit";
import { countAttempt } from "./attempt-limits";
import { asActor, asSystem } from "./database";
import { readDiagnosisFacts } from "./diagnosis-facts";
import { keepFile, receiveFile } from "./file-store";
import { type HeldUpload, holdUpload, pathOfHeld, releaseUpload, takeHeld } from "./held-upload";
import { readPackFacts } from "./pack-facts";
import { unknownSerial } from "./packs";
import type { ReadingFileCard } from "./reading-file-card";
import { type ReadAnswer, readingPool } from "./reading-worker/reading-pool";
import type { ReadingProgress } from "./reading-worker/reading-task";
import { storeReadings, whyNotThisPack } from "./store-readings";
import { sweepAbandonedUploads } from "./sweep-uploads";

export interface ReadingsUpload {
  /** As typed or chosen on the form. */
  readonly serial: string;
  readonly fileName: string;
  readonly chunks: AsyncIterable<Uint8Array>;
}

export type Refused = { readonly ok: false; readonly sentence: string };

export type ReceivedReadings = { readonly ok: true; readonly heldId: string } | Refused;

export type KeptReadings = { readonly ok: true; readonly file: ReadingFileCard } | Refused;

export interface ReadingWatch {
  /** The person went away or changed their mind: the reading ends at once and nothing is kept. */
  readonly signal?: AbortSignal;
  readonly onProgress?: (progress: ReadingProgress) => void;
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
  const { dealerId } = actor;
  if (!may(actor, "upload-readings") || dealerId === null) return refused(notTheDealer);
  const serialReading = readSerial(upload.serial);
  if (serialReading.kind !== "serial") return refused(serialSentence(serialReading));
  const attempt = await countAttempt("readings-upload", actor.userId);
  if (attempt.kind === "refused") {
    return refused(`Too many files in a short time. Try again in ${attempt.waitMinutes} minutes.`);
  }
  const { serial } = serialReading;
  // As the system: any dealer may bring any pack, and its facts may lie with another dealer's sale.
  if ((await asSystem((tx) => readPackFacts(tx, serial))) === null) return refused(unknownSerial);
  if (readingPool().isFull()) return refused(busy);
  const received = await receiveFile(upload.chunks);
  if (received.kind === "empty") return refused(readingFileEmpty);
  if (received.kind === "too-large") return refused(readingFileTooLarge);
  const { temporaryPath, sha256, sizeBytes } = received;
  const facts = { dealerId, userId: actor.userId, serial, fileName: upload.fileName, sha256, sizeBytes };
  return { ok: true, heldId: await holdUpload(temporaryPath, facts) };
}

/**
 * Second half: decodes and diagnoses the held file in a thread of its own, and keeps it with what was found. It belongs to no
 * return until the form is sent. Nothing stays behind where the file cannot be used or the reading is called off.
 */
export async function readReceived(actor: Actor, heldId: string, watch: ReadingWatch = {}): Promise<KeptReadings> {
  const held = await takeHeld(actor, heldId);
  if (held === null) return refused(noLongerHeld);
  try {
    return await readHeld(actor, held, watch);
  } finally {
    await releaseUpload(heldId);
  }
}

async function readHeld(actor: Actor, held: HeldUpload, watch: ReadingWatch): Promise<KeptReadings> {
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
  const answer = await readingPool().readFile({ path: temporaryPath, sizeBytes, model, context, baseline, ...watch });
  if (answer.kind !== "report") return refused(sayUnread(answer));
  const misfit = whyNotThisPack(answer.summary, serial, model);
  if (misfit !== null) return refused(misfit);
  watch.signal?.throwIfAborted();
  // From here on a failure leaves the bytes to a later sweep: another upload of the same bytes may be about to name them.
  await keepFile(temporaryPath, sha256);
  await sweepAbandonedUploads(actor, sha256);
  const facts = { actor, dealerId, serial, fileName, sha256, sizeBytes };
  return { ok: true, file: await asActor(actor, (tx) => storeReadings(tx, facts, answer)) };
}

const notTheDealer = "Readings are added by the dealer who lodges the return.";
const noLongerHeld = "This file is no longer held here. Choose it again.";
const busy = "Several long files are being read just now. Choose the file again in a minute; your answers are kept.";

function sayUnread(answer: Exclude<ReadAnswer, { kind: "report" }>): string {
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
