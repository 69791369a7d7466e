import "server-only";
import { randomBytes } from "node:crypto";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { readEnvironment } from "../env";

/**
 * The secret that signs session cookies: given, or made once and kept beside the embedded database.
 * With a database server it must be given, because several programs may share that server.
 */
export function authSecret(): string {
  const { authSecret: given, databaseUrl, dataDir } = readEnvironment();
  if (given !== null) return given;
  if (databaseUrl !== null)
    throw new Error("With DATABASE_URL set, AUTH_SECRET must be set too (32 characters or more).");
  const file = path.join(dataDir, "auth-secret");
  mkdirSync(dataDir, { recursive: true });
  try {
    writeFileSync(file, randomBytes(32).toString("base64url"), { flag: "wx", mode: 0o600 });
  } catch (error) {
    if (!(error instanceof Error && "code" in error && error.code === "EEXIST")) throw error;
  }
  return readFileSync(file, "utf8");
}
