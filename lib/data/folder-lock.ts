import { closeSync, mkdirSync, openSync, readFileSync, unlinkSync, writeSync } from "node:fs";
import os from "node:os";
import path from "node:path";

export class FolderInUseError extends Error {
  override readonly name = "FolderInUseError";
}

/**
 * Keeps a second process away from the embedded database, which two processes at once would destroy.
 * The lock file names its owner; it is taken over only where that owner is gone. A heartbeat lock was not used: a
 * server busy with a large file misses its heartbeats, and the lock would be lost while the folder is in use.
 *
 * @returns a function that gives the lock back
 * @throws FolderInUseError where a living process holds the folder
 */
export function lockFolder(folder: string): () => void {
  mkdirSync(folder, { recursive: true });
  const file = path.join(folder, "in-use-by");
  for (let attempt = 0; attempt < 3; attempt += 1) {
    if (createLock(file)) return () => releaseLock(file);
    const owner = readOwner(file);
    if (owner !== null && isAlive(owner)) {
      throw new FolderInUseError(
        `Process ${owner.pid} on ${owner.host} has the database in ${folder} open. Stop it first; two at once would destroy the data. ` +
          `If you are sure that no such program runs, delete ${file}.`,
      );
    }
    unlinkIfThere(file);
  }
  throw new FolderInUseError(`The lock file ${file} could not be taken. Another start may be under way: try again.`);
}

interface Owner {
  readonly pid: number;
  readonly host: string;
}

function createLock(file: string): boolean {
  try {
    const handle = openSync(file, "wx");
    writeSync(handle, `${process.pid} ${os.hostname()}\n`);
    closeSync(handle);
    return true;
  } catch (error) {
    if (hasCode(error, "EEXIST")) return false;
    throw error;
  }
}

function readOwner(file: string): Owner | null {
  try {
    const [pid, host] = readFileSync(file, "utf8").trim().split(" ");
    const number = Number(pid);
    return Number.isInteger(number) && number > 0 && host ? { pid: number, host } : null;
  } catch (error) {
    if (hasCode(error, "ENOENT")) return null;
    throw error;
  }
}

/** A holder on another host (a shared folder) cannot be asked, so it counts as alive. */
function isAlive(owner: Owner): boolean {
  if (owner.host !== os.hostname()) return true;
  if (owner.pid === process.pid) return true;
  try {
    process.kill(owner.pid, 0);
    return true;
  } catch (error) {
    return hasCode(error, "EPERM");
  }
}

function releaseLock(file: string): void {
  if (readOwner(file)?.pid === process.pid) unlinkIfThere(file);
}

function unlinkIfThere(file: string): void {
  try {
    unlinkSync(file);
  } catch (error) {
    if (!hasCode(error, "ENOENT")) throw error;
  }
}

function hasCode(error: unknown, code: string): boolean {
  return error instanceof Error && "code" in error && error.code === code;
}
