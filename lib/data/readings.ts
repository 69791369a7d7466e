import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type Diagnosis, diagnose } from "@/lib/diagnosis/diagnose";
import type { PackModel } from "@/lib/packs/pack-model";
import { groupSerial, readSerial } from "@/lib/packs/serial";
import { serialSentence } from "@/lib/packs/serial-sentence";
import { readingFileEmpty, readingFileTooLarge } from "@/lib/readings/file-limit";
import { createReadingDecoder, type DecodedReadings, parserVersion } from "@/lib/readings/read-readings";
import { tracePicture } from "@/lib/readings/trace-picture";
import { countAttempt } from "./attempt-limits";
import { asActor, asSystem, type Transaction } from "./database";
import { readDiagnosisFacts } from "./diagnosis-facts";
import { discardFile, keepFile, receiveFile } from "./file-store";
import { unknownSerial } from "./packs";
import { type ReadingFileCard, readingFileCard, readingFileSelect } from "./reading-file-card";
import { sweepAbandonedUploads } from "./sweep-uploads";

export interface ReadingsUpload {
  /** As typed or chosen on the form. */
  readonly serial: string;
  readonly fileName: string;
  readonly chunks: AsyncIterable<Uint8Array>;
}

export type KeptReadings =
  | { readonly ok: true; readonly file: ReadingFileCard }
  | { readonly ok: false; readonly sentence: string };

/**
 * Takes a readings file for a pack: writes the original bytes, decodes and diagnoses them, and keeps both. It belongs
 * to no return until the form is sent. Nothing stays behind where the file cannot be used.
 */
export async function keepReadings(actor: Actor, upload: ReadingsUpload): Promise<KeptReadings> {
  const { dealerId } = actor;
  if (!may(actor, "upload-readings") || dealerId === null) {
    return { ok: false, sentence: "Readings are added by the dealer who lodges the return." };
  }
  const serialReading = readSerial(upload.serial);
  if (serialReading.kind !== "serial") return { ok: false, sentence: serialSentence(serialReading) };
  const attempt = await countAttempt("readings-upload", actor.userId);
  if (attempt.kind === "refused") {
    return { ok: false, sentence: `Too many files in a short time. Try again in ${attempt.waitMinutes} minutes.` };
  }
  const { serial } = serialReading;
  // As the system: any dealer may bring any pack, and its facts may lie with another dealer's sale.
  const known = await asSystem((tx) => readDiagnosisFacts(tx, serial));
  if (known === null) return { ok: false, sentence: unknownSerial };
  const { pack, context, baseline } = known;

  const decoder = createReadingDecoder({ model: pack.model.facts });
  const received = await receiveFile(upload.chunks, (chunk) => decoder.push(chunk));
  if (received.kind === "empty") return { ok: false, sentence: readingFileEmpty };
  if (received.kind === "too-large") return { ok: false, sentence: readingFileTooLarge };
  const { temporaryPath, sha256, sizeBytes } = received;
  try {
    const decoded = decoder.end();
    if (decoded.kind === "unusable") return { ok: false, sentence: decoded.sentence };
    const misfit = whyNotThisPack(decoded, serial, pack.model.facts);
    if (misfit !== null) return { ok: false, sentence: misfit };
    const { log, summary } = decoded;
    const diagnosis = diagnose({ log, summary, model: pack.model.facts, context, baseline });
    // From here on a failure leaves the bytes to a later sweep: another upload of the same bytes may be about to name them.
    await keepFile(temporaryPath, sha256);
    await sweepAbandonedUploads(actor, sha256);
    const facts = { actor, dealerId, serial, fileName: upload.fileName, sha256, sizeBytes };
    const file = await asActor(actor, (tx) => storeReadings(tx, facts, decoded, diagnosis));
    return { ok: true, file };
  } finally {
    await discardFile(temporaryPath);
  }
}

/** Why the file cannot be of this pack, as a sentence; null where nothing speaks against it. */
export function whyNotThisPack(decoded: DecodedReadings, serial: string, model: PackModel): string | null {
  const { serialInFile, groups } = decoded.summary;
  const inFile = serialInFile === null ? null : readSerial(serialInFile);
  if (inFile?.kind === "serial" && inFile.serial !== serial) {
    const asked = readSerial(serial);
    const shown = asked.kind === "serial" ? groupSerial(asked.serial) : serial;
    return `This file names the pack ${groupSerial(inFile.serial)}, the return is for ${shown}. Choose the file of this pack, or go back and correct the serial.`;
  }
  if (groups !== model.groups) {
    return `This file holds ${groups} cell groups, this pack has ${model.groups}. It looks like the file of another model: choose the file read from this pack.`;
  }
  return null;
}

export interface KeptFileFacts {
  readonly actor: Pick<Actor, "userId">;
  readonly dealerId: string;
  readonly serial: string;
  readonly fileName: string;
  readonly sha256: string;
  readonly sizeBytes: number;
}

/** Writes one decoded and diagnosed file with all that was found, in the caller's transaction. */
export async function storeReadings(
  tx: Transaction,
  facts: KeptFileFacts,
  { log, summary }: DecodedReadings,
  diagnosis: Diagnosis,
): Promise<ReadingFileCard> {
  const { actor, dealerId, serial, fileName, sha256, sizeBytes } = facts;
  const picture = tracePicture(
    log,
    diagnosis.findings.flatMap((finding) => finding.groups),
  );
  const row = await tx.readingFile.create({
    data: {
      dealerId,
      serial,
      fileName: fileName.slice(0, 200),
      sha256,
      sizeBytes,
      uploadedByUserId: actor.userId,
      parserVersion,
      rows: summary.rows,
      groups: summary.groups,
      coverage: summary.coverage,
      timeRepairs: summary.timeRepairs,
      currentSign: summary.currentSign,
      startedAt: log.startUnixS === null ? null : new Date(log.startUnixS * 1000),
      spanSeconds: log.timeS.at(-1) ?? 0,
      rejectedRows: summary.rejected.length + summary.rejectedNotListed,
      rejected: summary.rejected.map(({ line, reason }) => ({ line, reason })),
      remarks: [...summary.remarks],
      traces: JSON.parse(JSON.stringify(picture)),
      measurements: {
        createMany: {
          data: diagnosis.measurements.filter(({ value }) => Number.isFinite(value)).map((row) => ({ ...row })),
        },
      },
      findings: {
        createMany: {
          data: diagnosis.findings.map((finding, index) => ({
            ...finding,
            rank: index + 1,
            groups: [...finding.groups],
            evidenceFor: [...finding.evidenceFor],
            evidenceAgainst: [...finding.evidenceAgainst],
          })),
        },
      },
      suggestion: {
        create: {
          remedy: diagnosis.suggestion.remedy,
          reasons: [...diagnosis.suggestion.reasons],
          plainReasons: [...diagnosis.suggestion.plainReasons],
          wouldChange: [...diagnosis.suggestion.wouldChange],
          missing: [...diagnosis.suggestion.missing],
          ruleVersion: diagnosis.suggestion.ruleVersion,
        },
      },
    },
    select: readingFileSelect,
  });
  return readingFileCard(row);
}
