import "server-only";
import { readdir, readFile, rename, writeFile } from "node:fs/promises";
import path from "node:path";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { discardFile, incomingFolder } from "./file-store";

/** A file that was sent and waits to be read; what lies too long is swept away with all that broke off on its way in. */
const heldUploadSchema = z.object({
  dealerId: z.string(),
  userId: z.string(),
  serial: z.string(),
  /** The open return it is brought for; null while none was sent. */
  returnId: z.string().nullable().default(null),
  fileName: z.string(),
  sha256: z.string(),
  sizeBytes: z.number(),
  /** Dangers in it that were told although it is not kept, and the pack they were told of; null where none was. */
  told: z
    .object({ serial: z.string(), dangers: z.array(z.object({ fault: z.string(), safetyClass: z.string() })) })
    .nullable()
    .default(null),
});

export type HeldFacts = z.output<typeof heldUploadSchema>;

export interface HeldUpload extends HeldFacts {
  readonly id: string;
}

/** Puts a note beside the bytes that says whose they are. A file and not a row, so that both live and go together. */
export async function holdUpload(temporaryPath: string, facts: HeldFacts): Promise<string> {
  const id = path.basename(temporaryPath);
  await writeFile(`${noteOf(id)}.part`, JSON.stringify(facts));
  await rename(`${noteOf(id)}.part`, noteOf(id));
  return id;
}

/** Writes beside a held file what was told of it. */
export async function noteTold({ id, ...facts }: HeldUpload, told: HeldFacts["told"]): Promise<void> {
  await holdUpload(pathOfHeld(id), { ...facts, told });
}

/** The held upload of this very person, or null: not theirs, not there any more, or no such id. */
export async function takeHeld(actor: Actor, id: string): Promise<HeldUpload | null> {
  if (!z.uuid().safeParse(id).success) return null;
  const note = await readFile(noteOf(id), "utf8").catch(() => null);
  if (note === null) return null;
  const facts = heldUploadSchema.safeParse(JSON.parse(note));
  if (!facts.success || facts.data.userId !== actor.userId) return null;
  // What the bench reads out is brought for a dealer's return; a dealer's own is for no other dealer's.
  if (actor.dealerId !== null && facts.data.dealerId !== actor.dealerId) return null;
  return { id, ...facts.data };
}

/** Every upload that waits to be read, whoever sent it: what may not be swept away is told by its serial. */
export async function listHeld(): Promise<{ readonly id: string; readonly serial: string }[]> {
  const held = [];
  for (const name of await readdir(incomingFolder())) {
    if (!name.endsWith(".json")) continue;
    const note = await readFile(path.join(incomingFolder(), name), "utf8").catch(() => null);
    const facts = note === null ? null : heldUploadSchema.safeParse(readJson(note));
    if (facts?.success)
      held.push({ id: path.basename(name, ".json"), serial: facts.data.told?.serial ?? facts.data.serial });
  }
  return held;
}

/** Lets the bytes and the note go; bytes that were kept meanwhile lie elsewhere. */
export async function releaseUpload(id: string): Promise<void> {
  await discardFile(pathOfHeld(id));
  await discardFile(noteOf(id));
}

export function pathOfHeld(id: string): string {
  return path.join(incomingFolder(), id);
}

function noteOf(id: string): string {
  return `${pathOfHeld(id)}.json`;
}

/** A note that broke off while it was written is no note. */
function readJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    if (error instanceof SyntaxError) return null;
    throw error;
  }
}
