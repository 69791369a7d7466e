import "server-only";
import type { Actor } from "@/lib/access/actor";
import type { ReadingReport } from "@/lib/diagnosis/reading-report";
import type { PackModel } from "@/lib/packs/pack-model";
import { groupSerial, readSerial } from "@/lib/packs/serial";
import type { ColumnAnswers } from "@/lib/readings/column-questions";
import { parserVersion } from "@/lib/readings/read-readings";
import type { ReadingFileSummary } from "@/lib/readings/reading-log";
import type { Transaction } from "../database";
import { type ReadingFileCard, readingFileCard, readingFileSelect } from "./reading-file-card";

/** Why the file cannot be of this pack, as a sentence; null where nothing speaks against it. */
export function whyNotThisPack(summary: ReadingFileSummary, serial: string, model: PackModel): string | null {
  const { serialInFile, groups } = summary;
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
  /** The open return it was brought for; null or missing while there is none. */
  readonly returnId?: string | null;
  /** What a person said of its columns. */
  readonly columnAnswers?: ColumnAnswers | null;
}

/** Writes one decoded and diagnosed file with all that was found, in the caller's transaction. */
export async function storeReadings(
  tx: Transaction,
  facts: KeptFileFacts,
  { summary, startUnixS, spanSeconds, picture, diagnosis }: ReadingReport,
): Promise<ReadingFileCard> {
  const { actor, dealerId, serial, fileName, sha256, sizeBytes, returnId = null, columnAnswers = null } = facts;
  const row = await tx.readingFile.create({
    data: {
      dealerId,
      serial,
      broughtForId: returnId,
      fileName: fileName.slice(0, 200),
      sha256,
      sizeBytes,
      uploadedByUserId: actor.userId,
      parserVersion,
      ...(columnAnswers === null ? {} : { columnAnswers: { ...columnAnswers } }),
      rows: summary.rows,
      groups: summary.groups,
      coverage: summary.coverage,
      timeRepairs: summary.timeRepairs,
      currentSign: summary.currentSign,
      startedAt: startUnixS === null ? null : new Date(startUnixS * 1000),
      spanSeconds,
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
          thresholds: { ...diagnosis.thresholds },
          unseen: diagnosis.unseen.map((one) => ({ ...one })),
          ruleVersion: diagnosis.suggestion.ruleVersion,
        },
      },
    },
    select: readingFileSelect,
  });
  return readingFileCard(row);
}
