import "server-only";
import type { Actor } from "@/lib/access/actor";
import { isGrave, safetyClasses } from "@/lib/diagnosis/finding";
import type { Serial } from "@/lib/packs/serial";
import type { Transaction } from "../database";
import type { FurtherNote } from "./open-incident";
import { type EarlyDanger, raiseBeforeReturn, raiseUnderReturn } from "./raise-before-return";

/** A file as it was read, before any form names it. */
export interface UploadedFile {
  readonly dealerId: string;
  readonly serial: Serial;
  readonly sha256: string;
  readonly returnId: string | null;
  /** Told of this very upload before it was kept. */
  readonly alreadyTold: readonly ToldDanger[];
}

interface ToldDanger {
  readonly fault: string;
  readonly safetyClass: string;
}

/**
 * The maker knows from now on what a file shows, whether its form is ever sent. The same bytes tell nothing new, unless they are
 * read otherwise: a danger that shows only since its columns were confirmed is told like the first.
 */
export async function raiseFromUpload(
  tx: Transaction,
  actor: Actor,
  { dealerId, serial, sha256, returnId, alreadyTold }: UploadedFile,
  findings: EarlyDanger["findings"],
): Promise<FurtherNote | null> {
  const kept = await tx.finding.findMany({
    where: { readingFile: { sha256, serial, dealerId } },
    select: { fault: true, safetyClass: true },
  });
  const before: readonly ToldDanger[] = [...kept, ...alreadyTold];
  const isNew = ({ fault, safetyClass }: (typeof findings)[number]) =>
    safetyClasses.some((one) => isGrave(one) && one === safetyClass) &&
    !before.some((known) => known.fault === fault && known.safetyClass === safetyClass);
  if (!findings.some(isNew)) return null;
  const now = new Date();
  if (returnId !== null) return raiseUnderReturn(tx, actor, { returnId, sha256, findings }, now);
  const told = {
    dealerId,
    serial,
    danger: { kind: "none" },
    findings,
    how: "file-analysis",
    firstKnownAt: now,
  } as const;
  const raised = await raiseBeforeReturn(tx, actor, told, now);
  return typeof raised === "string" ? null : raised;
}
