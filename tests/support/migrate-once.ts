import { cpSync, mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import type { TestProject } from "vitest/node";
import { type DatabaseTarget, openDatabase } from "@/lib/data/open-database";
import { applyMigrations, chooseMode } from "@/prisma/migrate";
import { addressOf, databaseBeside, dropAllBeside, tellServer, testServer } from "./server-databases";

declare module "vitest" {
  interface ProvidedContext {
    /** Migrated, empty databases, to be copied and never opened: folders of embedded ones, or names on the server. */
    migrated: { readonly live: string; readonly demo: string };
  }
}

const modes = ["live", "demo"] as const;

/** Migrates once for all files of integration tests: the history of migrations takes seconds, a copy of what it made does not. */
export default async function migrateOnce(project: TestProject): Promise<() => void | Promise<void>> {
  return testServer === "" ? migrateFolders(project) : migrateOnServer(project);
}

async function migrateFolders(project: TestProject): Promise<() => void> {
  const root = mkdtempSync(path.join(os.tmpdir(), "returns-bench-migrated-"));
  const folders = { live: path.join(root, "live"), demo: path.join(root, "demo") };
  const bare = path.join(root, "bare");
  await inDatabase({ kind: "embedded", folder: bare }, applyMigrations);
  for (const mode of modes) {
    cpSync(bare, folders[mode], { recursive: true });
    await inDatabase({ kind: "embedded", folder: folders[mode] }, (adapter) => chooseMode(adapter, mode));
  }
  project.provide("migrated", folders);
  return () => rmSync(root, { recursive: true, force: true });
}

async function migrateOnServer(project: TestProject): Promise<() => Promise<void>> {
  const bare = databaseBeside("bare");
  const names = { live: databaseBeside("live"), demo: databaseBeside("demo") };
  await dropAllBeside();
  await tellServer(`CREATE DATABASE "${bare}"`);
  await inDatabase({ kind: "server", url: addressOf(bare) }, applyMigrations);
  for (const mode of modes) {
    await tellServer(`CREATE DATABASE "${names[mode]}" TEMPLATE "${bare}"`);
    await inDatabase({ kind: "server", url: addressOf(names[mode]) }, (adapter) => chooseMode(adapter, mode));
  }
  project.provide("migrated", names);
  return dropAllBeside;
}

type Adapter = Parameters<typeof applyMigrations>[0];

async function inDatabase(target: DatabaseTarget, work: (adapter: Adapter) => Promise<unknown>): Promise<void> {
  const database = await openDatabase(target);
  try {
    await work(database.adapter);
  } finally {
    await database.close();
  }
}
