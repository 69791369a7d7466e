import "server-only";
import { readSerial } from "@/lib/packs/serial";
import { serialInAnswers } from "@/lib/returns/draft-answers.schema";
import { isSetApart } from "@/lib/returns/safety-track";
import { asSystem, type Transaction } from "../database";
import { readPackTracks } from "../returns/track-rows";
import { readFreeze } from "./pack-freeze";

/**
 * Of these serials those of which nothing is erased: the pack stands in the record of an incident, open or closed, is set
 * apart, or lies under a legal hold. Give it a system transaction, because it may have become known at another dealer; only
 * the serials asked about come back.
 */
export async function readSerialsKeptAsEvidence(
  tx: Transaction,
  serials: readonly string[],
): Promise<ReadonlySet<string>> {
  const packs = await tx.pack.findMany({
    where: { serial: { in: [...new Set(serials)] } },
    select: { id: true, serial: true },
  });
  const kept = new Set<string>();
  for (const { id, serial } of packs) {
    const { safety, hold } = await readPackTracks(tx, id);
    const isKept = isSetApart(safety.state) || hold.state === "held" || (await readFreeze(tx, id)).noErase;
    if (isKept) kept.add(serial);
  }
  return kept;
}

/** The same of one serial. As the system: it may be set apart, held, or in an incident at another dealer. */
export async function isKeptAsEvidenceAsSystem(serial: string): Promise<boolean> {
  return (await asSystem((tx) => readSerialsKeptAsEvidence(tx, [serial]))).has(serial);
}

/** The serial an unfinished return is about, as packs carry it; as typed where it is none. */
export function serialOfDraft(answers: unknown): string {
  const typed = serialInAnswers(answers);
  const reading = readSerial(typed);
  return reading.kind === "serial" ? String(reading.serial) : typed;
}
