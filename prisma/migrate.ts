import { mkdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import type { SqlMigrationAwareDriverAdapterFactory } from "@prisma/driver-adapter-utils";
import { databaseTarget } from "@/lib/data/database-target";
import { openDatabase } from "@/lib/data/open-database";
import { PrismaClient } from "./generated/client";
import { migrationsFolder, readMigrations, readSchemaFiles } from "./migrations-on-disk";
import { startSchemaEngine } from "./schema-engine";

const filters = { externalTables: [], externalEnums: [] };

/** Applies what is missing, in order, and returns the names applied now. */
export async function applyMigrations(adapter: SqlMigrationAwareDriverAdapterFactory): Promise<string[]> {
  const engine = await startSchemaEngine(adapter, readSchemaFiles());
  try {
    const { appliedMigrationNames } = await engine.applyMigrations({ migrationsList: readMigrations(), filters });
    return appliedMigrationNames;
  } finally {
    engine.free();
  }
}

/** The SQL by which the schema files differ from the migration history; empty text where they agree. */
export async function diffSchemaFromMigrations(): Promise<string> {
  const shadow = await openDatabase({ kind: "memory" });
  const files = readSchemaFiles();
  const engine = await startSchemaEngine(shadow.adapter, files);
  try {
    const { stdout } = await engine.diff({
      from: { tag: "migrations", ...readMigrations() },
      to: {
        tag: "schemaDatamodel",
        files: files.map(([file, content]) => ({ path: file, content })),
      },
      script: true,
      exitCode: null,
      filters,
    });
    return isEmptyDiff(stdout ?? "") ? "" : (stdout ?? "");
  } finally {
    engine.free();
    await shadow.close();
  }
}

function isEmptyDiff(sql: string): boolean {
  return sql.split("\n").every((line) => line.trim() === "" || line.startsWith("--"));
}

/** Writes the difference as a new migration; roles, policies, checks and triggers are added to it by hand. */
async function writeMigration(name: string): Promise<void> {
  const sql = await diffSchemaFromMigrations();
  if (sql === "") {
    console.log("The schema and the migrations agree: nothing to write.");
    return;
  }
  const stamp = new Date().toISOString().replace(/\D/g, "").slice(0, 14);
  const folder = path.join(migrationsFolder, `${stamp}_${name}`);
  mkdirSync(folder, { recursive: true });
  writeFileSync(path.join(folder, "migration.sql"), sql);
  writeFileSync(path.join(migrationsFolder, "migration_lock.toml"), 'provider = "postgresql"\n');
  console.log(`Wrote ${folder}/migration.sql`);
}

async function checkDrift(): Promise<void> {
  const sql = await diffSchemaFromMigrations();
  if (sql === "") return;
  console.error(`The schema has changes that no migration holds. Write one with: npm run db:migration -- NAME\n${sql}`);
  process.exitCode = 1;
}

/** Brings the database named by the environment up to date; a new one becomes a live one. */
async function migrateConfigured(): Promise<void> {
  const database = await openDatabase(databaseTarget());
  try {
    const applied = await applyMigrations(database.adapter);
    await chooseMode(database.adapter, "live");
    console.log(applied.length === 0 ? "Nothing to apply." : `Applied: ${applied.join(", ")}`);
  } finally {
    await database.close();
  }
}

/** Says once whether a new database is a live or a demo one; one that was told before keeps its mode. */
export async function chooseMode(adapter: SqlMigrationAwareDriverAdapterFactory, mode: "live" | "demo"): Promise<void> {
  const client = new PrismaClient({ adapter });
  await client.instance.upsert({ where: { id: 1 }, create: { mode }, update: {} });
  await client.$disconnect();
}

const [command, name] = process.argv[1] === import.meta.filename ? process.argv.slice(2) : [];
if (command === "new" && name) await writeMigration(name);
else if (command === "drift") await checkDrift();
else if (command === "apply") await migrateConfigured();
else if (command !== undefined) {
  console.error("Usage: tsx prisma/migrate.ts apply | new NAME | drift");
  process.exitCode = 2;
}
