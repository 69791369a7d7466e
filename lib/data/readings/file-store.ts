import "server-only";
import { createHash, randomUUID } from "node:crypto";
import { createReadStream, type ReadStream, rmSync, statSync } from "node:fs";
import { access, copyFile, link, mkdir, open, readdir, rename, rm, utimes } from "node:fs/promises";
import path from "node:path";
import { MAX_READING_FILE_BYTES } from "@/lib/readings/file-limit";
import { readEnvironment } from "../env";

export type ReceivedFile =
  | { readonly kind: "received"; readonly temporaryPath: string; readonly sha256: string; readonly sizeBytes: number }
  | { readonly kind: "too-large" }
  | { readonly kind: "empty" };

/**
 * Writes an upload to a temporary file, chunk by chunk. Nothing stays behind where the upload is too large, empty or broken off.
 * Bounded memory: one chunk at a time.
 */
export async function receiveFile(chunks: AsyncIterable<Uint8Array>): Promise<ReceivedFile> {
  const folder = incomingFolder();
  await mkdir(folder, { recursive: true });
  const temporaryPath = path.join(folder, randomUUID());
  const hash = createHash("sha256");
  let sizeBytes = 0;
  const handle = await open(temporaryPath, "wx");
  try {
    for await (const chunk of chunks) {
      sizeBytes += chunk.byteLength;
      if (sizeBytes > MAX_READING_FILE_BYTES) break;
      hash.update(chunk);
      await handle.write(chunk);
    }
    await handle.sync();
  } catch (error) {
    await handle.close();
    await discardFile(temporaryPath);
    throw error;
  }
  await handle.close();
  if (sizeBytes > 0 && sizeBytes <= MAX_READING_FILE_BYTES) {
    return { kind: "received", temporaryPath, sha256: hash.digest("hex"), sizeBytes };
  }
  await discardFile(temporaryPath);
  return { kind: sizeBytes === 0 ? "empty" : "too-large" };
}

/**
 * Moves a received file to its place under its own SHA-256; the same bytes lie there once, whoever sent them. Their
 * time is set to now, also where they lay there before: it keeps a sweep away until a row names them.
 */
export async function keepFile(temporaryPath: string, sha256: string): Promise<void> {
  const kept = pathOf(sha256);
  await mkdir(path.dirname(kept), { recursive: true });
  const now = new Date();
  await utimes(temporaryPath, now, now);
  await rename(temporaryPath, kept);
}

/** Puts kept bytes once more among those on their way in, without copying them where the disk allows it. Returns their place there. */
export async function reopenFile(sha256: string): Promise<string> {
  await mkdir(incomingFolder(), { recursive: true });
  const place = path.join(incomingFolder(), randomUUID());
  await link(pathOf(sha256), place).catch(() => copyFile(pathOf(sha256), place));
  return place;
}

export async function discardFile(file: string): Promise<void> {
  await rm(file, { force: true });
}

/**
 * Removes kept bytes unless they were sent after the given moment. The caller makes sure that no row names them. Looked
 * at and removed in one go, so that nothing of this process can put the same bytes there in between.
 */
export function removeKeptFile(sha256: string, unlessSentAfter: Date): void {
  removeIfOlder(pathOf(sha256), unlessSentAfter);
}

/** SHA-256 of the files that lie beside this one: a small share of the store, another one with every file. */
export async function neighboursOf(sha256: string): Promise<string[]> {
  const names = await readdir(path.dirname(pathOf(sha256)));
  return names.filter((name) => /^[0-9a-f]{64}$/.test(name) && name !== sha256);
}

/** Removes what broken-off uploads left on the way in, where the program ended before it could tidy up itself. */
export async function removeIncomingBefore(moment: Date, except: ReadonlySet<string>): Promise<void> {
  const folder = incomingFolder();
  for (const name of await readdir(folder)) {
    if (!except.has(name.replace(/\.json$/, ""))) removeIfOlder(path.join(folder, name), moment);
  }
}

function removeIfOlder(file: string, moment: Date): void {
  const found = statSync(file, { throwIfNoEntry: false });
  if (found !== undefined && found.mtime < moment) rmSync(file, { force: true });
}

export async function isKept(sha256: string): Promise<boolean> {
  return access(pathOf(sha256)).then(
    () => true,
    () => false,
  );
}

export function readKeptFile(sha256: string): ReadStream {
  return createReadStream(pathOf(sha256));
}

/** Where kept bytes lie, for a thread that reads them itself. */
export function pathOfKept(sha256: string): string {
  return path.resolve(pathOf(sha256));
}

function storeFolder(): string {
  return path.join(readEnvironment().dataDir, "files");
}

export function incomingFolder(): string {
  return path.join(storeFolder(), "incoming");
}

function pathOf(sha256: string): string {
  if (!/^[0-9a-f]{64}$/.test(sha256)) throw new RangeError("sha256: 64 hexadecimal digits");
  return path.join(storeFolder(), sha256.slice(0, 2), sha256);
}
