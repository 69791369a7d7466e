import { cpSync, mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import type { TestProject } from "vitest/node";
import { openDatabase } from "@/lib/data/open-database";
import { applyMigrations, chooseMode } from "@/prisma/migrate";

declare module "vitest" {
  interface ProvidedContext {
    /** Folders of migrated, empty, embedded databases, to be copied and never opened; null where the tests run on a server. */
    migratedFolders: { readonly live: string; readonly demo: string } | null;
  }
}

/** Migrates once for all files of integration tests: the history of migrations takes seconds, a copy of what it made does not. */
export default async function migrateFoldersOnce(project: TestProject): Promise<() => void> {
  if (process.env.TEST_DATABASE_URL) {
    project.provide("migratedFolders", null);
    return () => undefined;
  }
  const root = mkdtempSync(path.join(os.tmpdir(), "returns-bench-migrated-"));
  const folders = { live: path.join(root, "live"), demo: path.join(root, "demo") };
  const bare = path.join(root, "bare");
  await inFolder(bare, async (adapter) => {
    await applyMigrations(adapter);
  });
  for (const mode of ["live", "demo"] as const) {
    cpSync(bare, folders[mode], { recursive: true });
    await inFolder(folders[mode], (adapter) => chooseMode(adapter, mode));
  }
  project.provide("migratedFolders", folders);
  return () => rmSync(root, { recursive: true, force: true });
}

type Adapter = Parameters<typeof applyMigrations>[0];

async function inFolder(folder: string, work: (adapter: Adapter) => Promise<void>): Promise<void> {
  const database = await openDatabase({ kind: "embedded", folder });
  try {
    await work(database.adapter);
  } finally {
    await database.close();
  }
}
