import { randomUUID } from "node:crypto";
import { cp, mkdtemp, rm } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { afterAll, beforeAll, inject } from "vitest";
import { forgetAuthentication } from "@/lib/auth/authentication";
import { asSystem, closeDatabase } from "@/lib/data/database";
import { addressOf, databaseBeside, tellServer, testServer } from "./server-databases";

/**
 * An empty, migrated, real database for one test file, and an empty file store: a folder, or on a server a database of
 * its own beside the one that the tests were given.
 */
export function withTestDatabase(options: { demo?: boolean } = {}): void {
  let folder = "";
  let database: string | null = null;
  beforeAll(async () => {
    folder = await mkdtemp(path.join(os.tmpdir(), "returns-bench-test-"));
    const mode = options.demo ? "demo" : "live";
    if (testServer === "") await cp(inject("migrated")[mode], folder, { recursive: true });
    else {
      database = databaseBeside(randomUUID());
      await tellServer(`CREATE DATABASE "${database}" TEMPLATE "${inject("migrated")[mode]}"`);
    }
    process.env.DATA_DIR = folder;
    process.env.DATABASE_URL = database === null ? "" : addressOf(database);
    process.env.DEMO = options.demo ? "1" : "0";
    process.env.AUTH_SECRET = "a secret for tests only, long enough";
    process.env.MAKER_COUNTRY = "DE";
    process.env.RETURN_ADDRESS = "Goods-in | 1 Test Road | Testville";
  });
  afterAll(async () => {
    await closeDatabase();
    forgetAuthentication();
    await rm(folder, { recursive: true, force: true });
    if (database !== null) await tellServer(`DROP DATABASE "${database}" WITH (FORCE)`);
  });
}

/** Rows of a table as the system sees them, to check what really lies in the database. */
export function countRows(table: "return" | "returnMove" | "readingFile" | "safetyFlag" | "decision"): Promise<number> {
  return asSystem((tx) => {
    switch (table) {
      case "return":
        return tx.return.count();
      case "returnMove":
        return tx.returnMove.count();
      case "readingFile":
        return tx.readingFile.count();
      case "safetyFlag":
        return tx.safetyFlag.count();
      case "decision":
        return tx.decision.count();
    }
  });
}
