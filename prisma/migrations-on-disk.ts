import { existsSync, readdirSync, readFileSync } from "node:fs";
import path from "node:path";

const folder = import.meta.dirname;
const migrationsFolder = path.join(folder, "migrations");
const schemaFolder = path.join(folder, "schema");

/** The schema, one file a noun, as [path, text]. */
export function readSchemaFiles(): [string, string][] {
  return readdirSync(schemaFolder)
    .filter((name) => name.endsWith(".prisma"))
    .sort()
    .map((name) => [path.join(schemaFolder, name), readFileSync(path.join(schemaFolder, name), "utf8")]);
}

/** The migration history in the shape the schema engine reads. */
export function readMigrations() {
  const names = existsSync(migrationsFolder)
    ? readdirSync(migrationsFolder, { withFileTypes: true })
        .filter((entry) => entry.isDirectory())
        .map((entry) => entry.name)
        .sort()
    : [];
  return {
    baseDir: migrationsFolder,
    lockfile: { path: "migration_lock.toml", content: 'provider = "postgresql"\n' },
    shadowDbInitScript: "",
    migrationDirectories: names.map((name) => ({
      path: name,
      migrationFile: {
        path: "migration.sql",
        content: {
          tag: "ok" as const,
          value: readFileSync(path.join(migrationsFolder, name, "migration.sql"), "utf8"),
        },
      },
    })),
  };
}

export { migrationsFolder, schemaFolder };
