import "server-only";
import { createHash, randomUUID } from "node:crypto";
import { createReadStream, type ReadStream } from "node:fs";
import { access, mkdir, open, rename, rm } from "node:fs/promises";
import path from "node:path";
import { MAX_READING_FILE_BYTES } from "@/lib/readings/file-limit";
import { readEnvironment } from "./env";

export type ReceivedFile =
  | { readonly kind: "received"; readonly temporaryPath: string; readonly sha256: string; readonly sizeBytes: number }
  | { readonly kind: "too-large" }
  | { readonly kind: "empty" };

/**
 * Writes an upload to a temporary file, chunk by chunk, while `onChunk` sees the same bytes. Nothing stays behind where
 * the upload is too large, empty or broken off. Bounded memory: one chunk at a time.
 */
export async function receiveFile(
  chunks: AsyncIterable<Uint8Array>,
  onChunk: (chunk: Uint8Array) => void,
): Promise<ReceivedFile> {
  const folder = path.join(storeFolder(), "incoming");
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
      onChunk(chunk);
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

/** Moves a received file to its place under its own SHA-256; the same bytes lie there once, whoever sent them. */
export async function keepFile(temporaryPath: string, sha256: string): Promise<void> {
  const kept = pathOf(sha256);
  await mkdir(path.dirname(kept), { recursive: true });
  await rename(temporaryPath, kept);
}

export async function discardFile(file: string): Promise<void> {
  await rm(file, { force: true });
}

/** Removes kept bytes. The caller makes sure that no row names them any more. */
export async function removeKeptFile(sha256: string): Promise<void> {
  await rm(pathOf(sha256), { force: true });
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

function storeFolder(): string {
  return path.join(readEnvironment().dataDir, "files");
}

function pathOf(sha256: string): string {
  if (!/^[0-9a-f]{64}$/.test(sha256)) throw new RangeError("sha256: 64 hexadecimal digits");
  return path.join(storeFolder(), sha256.slice(0, 2), sha256);
}
