import "server-only";
import type { Actor } from "@/lib/access/actor";
import { isGrave, safetyClasses } from "@/lib/diagnosis/finding";
import { HOUR_MS } from "@/lib/warranty/clock-spans";
import { asActor, asSystem } from "../database";
import { readSerialsKeptAsEvidence } from "../safety/kept-as-evidence";
import { neighboursOf, removeIncomingBefore, removeKeptFile } from "./file-store";
import { listHeld } from "./held-upload";
import { listTakenOut } from "./take-readings-out";

/** An upload whose form was never sent, or that broke off on the way in, is swept away after this long. Engineering default. */
const ABANDONED_AFTER_HOURS = 24;

/**
 * Bytes that no row names are left alone for this long: they may be of an upload that is still being read and is about
 * to be named. Engineering default, far above the time that reading the largest file takes.
 */
const UNNAMED_AFTER_HOURS = 1;

/**
 * Sweeps, with every upload, what earlier ones left: this dealer's uploads that were never sent with a form, unnamed
 * bytes among their files and among the neighbours of the file just kept (so that the cost stays small, and a failed
 * upload that is tried again meets its own remains), and broken-off files on the way in. What belongs to a pack that is
 * evidence (an incident, a flag, a legal hold) is left alone, sent with a form or not.
 */
export async function sweepAbandonedUploads(actor: Actor, justKept: string, now = new Date()): Promise<void> {
  const abandonedBefore = new Date(now.getTime() - ABANDONED_AFTER_HOURS * HOUR_MS);
  // A file that shows a danger is what the house knew it by: it stays.
  const showsNoDanger = { none: { safetyClass: { in: safetyClasses.filter(isGrave) } } };
  const found = await asActor(actor, async (tx) => {
    // What was taken out of a form need not wait for a day.
    const gone = [
      { uploadedAt: { lt: abandonedBefore } },
      { id: { in: await listTakenOut(tx, actor, abandonedBefore) } },
    ];
    return tx.readingFile.findMany({
      where: { returnId: null, OR: gone, findings: showsNoDanger },
      select: { id: true, sha256: true, serial: true },
    });
  });
  const evidence = await asSystem((tx) =>
    readSerialsKeptAsEvidence(
      tx,
      found.map(({ serial }) => serial),
    ),
  );
  const files = found.filter(({ serial }) => !evidence.has(serial));
  const abandoned = await asActor(actor, async (tx) => {
    await tx.readingFile.deleteMany({ where: { id: { in: files.map(({ id }) => id) }, returnId: null } });
    return files.map(({ sha256 }) => sha256);
  });
  await removeUnnamed(
    [...new Set([...abandoned, ...(await neighboursOf(justKept))])],
    new Date(now.getTime() - UNNAMED_AFTER_HOURS * HOUR_MS),
  );
  await removeIncomingBefore(abandonedBefore, await heldAsEvidence());
}

/** Uploads that wait to be read and are about a pack that is evidence. */
async function heldAsEvidence(): Promise<ReadonlySet<string>> {
  const held = await listHeld();
  const evidence = await asSystem((tx) =>
    readSerialsKeptAsEvidence(
      tx,
      held.map(({ serial }) => serial),
    ),
  );
  return new Set(held.filter(({ serial }) => evidence.has(serial)).map(({ id }) => id));
}

async function removeUnnamed(candidates: readonly string[], unlessSentAfter: Date): Promise<void> {
  if (candidates.length === 0) return;
  // As the system: another dealer's return may rest on the same bytes.
  const rows = await asSystem((tx) =>
    tx.readingFile.findMany({ where: { sha256: { in: [...candidates] } }, select: { sha256: true } }),
  );
  const named = new Set(rows.map(({ sha256 }) => sha256));
  for (const sha256 of candidates) if (!named.has(sha256)) removeKeptFile(sha256, unlessSentAfter);
}
