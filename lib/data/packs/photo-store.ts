import "server-only";
import { createHash, randomUUID } from "node:crypto";
import { createReadStream, type ReadStream } from "node:fs";
import { mkdir, rename, writeFile } from "node:fs/promises";
import path from "node:path";
import { readEnvironment } from "../env";

/**
 * Where photographs lie, each under the SHA-256 of its own bytes. Apart from the readings files: those are swept when no
 * row names them, photographs are evidence and never are.
 */
export async function keepPhoto(bytes: Uint8Array): Promise<string> {
  const sha256 = createHash("sha256").update(bytes).digest("hex");
  const kept = pathOf(sha256);
  await mkdir(path.dirname(kept), { recursive: true });
  const temporary = path.join(path.dirname(kept), `incoming-${randomUUID()}`);
  await writeFile(temporary, bytes, { flag: "wx", flush: true });
  await rename(temporary, kept);
  return sha256;
}

export function readPhotoBytes(sha256: string): ReadStream {
  return createReadStream(pathOf(sha256));
}

function pathOf(sha256: string): string {
  if (!/^[0-9a-f]{64}$/.test(sha256)) throw new RangeError("sha256: 64 hexadecimal digits");
  return path.join(readEnvironment().dataDir, "photos", sha256.slice(0, 2), sha256);
}
