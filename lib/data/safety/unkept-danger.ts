import "server-only";
import type { Actor } from "@/lib/access/actor";
import { type Finding, isGrave } from "@/lib/diagnosis/finding";
import { readSerial, type Serial } from "@/lib/packs/serial";
import type { ReadingFileSummary } from "@/lib/readings/reading-log";
import { asSystem, type Transaction } from "../database";
import { type HeldUpload, noteTold } from "../readings/held-upload";
import { appendNote } from "./raise-danger";
import { raiseFromUpload } from "./raise-from-upload";

/** What a file shows that is not kept: its columns are asked about first, or it is another pack's. */
export interface ShownUnkept {
  readonly findings: readonly Finding[];
  readonly summary: Pick<ReadingFileSummary, "serialInFile">;
}

/**
 * Tells a danger in a file that is held and not kept, as one in a kept file is told: of the pack the file names, where we know it,
 * else of the one it was sent for. Does nothing where the file shows none. Its bytes stay from then on, for they are what it is known by.
 */
export async function tellUnkeptDanger(
  actor: Actor,
  held: HeldUpload,
  serial: Serial,
  { findings, summary }: ShownUnkept,
): Promise<void> {
  const grave = findings.filter(({ safetyClass }) => isGrave(safetyClass));
  if (grave.length === 0) return;
  const { dealerId, sha256 } = held;
  // As the system: the flag of a pack without a return is no dealer's to write.
  const { about, further } = await asSystem(async (tx) => {
    const about = (await knownInFile(tx, summary)) ?? serial;
    const returnId = about === serial ? held.returnId : null;
    const upload = { dealerId, serial: about, sha256, returnId, alreadyTold: held.told?.dangers ?? [] };
    return { about, further: await raiseFromUpload(tx, actor, upload, findings) };
  });
  if (further !== null) await appendNote(actor, further, new Date());
  await noteTold(held, { serial: about, dangers: grave.map(({ fault, safetyClass }) => ({ fault, safetyClass })) });
}

async function knownInFile(tx: Transaction, { serialInFile }: ShownUnkept["summary"]): Promise<Serial | null> {
  const named = serialInFile === null ? null : readSerial(serialInFile);
  if (named?.kind !== "serial") return null;
  const pack = await tx.pack.findUnique({ where: { serial: named.serial }, select: { id: true } });
  return pack === null ? null : named.serial;
}
