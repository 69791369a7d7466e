import { cp, mkdtemp, rm } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { afterAll, beforeAll, inject } from "vitest";
import { forgetAuthentication } from "@/lib/auth/authentication";
import { asSystem, closeDatabase } from "@/lib/data/database";
import { openDatabase } from "@/lib/data/open-database";
import { PrismaClient } from "@/prisma/generated/client";
import { applyMigrations, chooseMode } from "@/prisma/migrate";

const server = process.env.TEST_DATABASE_URL ?? "";

/**
 * An empty, migrated, real database for one test file, and an empty file store. On a server the schema is dropped
 * first, so nothing but tests may use that database.
 */
export function withTestDatabase(options: { demo?: boolean } = {}): void {
  let folder = "";
  beforeAll(async () => {
    folder = await mkdtemp(path.join(os.tmpdir(), "returns-bench-test-"));
    process.env.DATA_DIR = folder;
    process.env.DATABASE_URL = server;
    process.env.DEMO = options.demo ? "1" : "0";
    process.env.AUTH_SECRET = "a secret for tests only, long enough";
    process.env.MAKER_COUNTRY = "DE";
    process.env.RETURN_ADDRESS = "Goods-in | 1 Test Road | Testville";
    const mode = options.demo ? "demo" : "live";
    const migrated = inject("migratedFolders");
    if (migrated === null) await migrateServer(mode);
    else await cp(migrated[mode], folder, { recursive: true });
  });
  afterAll(async () => {
    await closeDatabase();
    forgetAuthentication();
    await rm(folder, { recursive: true, force: true });
  });
}

async function migrateServer(mode: "live" | "demo"): Promise<void> {
  const database = await openDatabase({ kind: "server", url: server });
  const client = new PrismaClient({ adapter: database.adapter });
  await client.$executeRawUnsafe("DROP SCHEMA public CASCADE");
  await client.$executeRawUnsafe("CREATE SCHEMA public");
  await applyMigrations(database.adapter);
  await chooseMode(database.adapter, mode);
  await client.$disconnect();
  await database.close();
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
