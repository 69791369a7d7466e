import path from "node:path";
import { PGlite } from "@electric-sql/pglite";
import { PrismaPg } from "@prisma/adapter-pg";
import type { SqlMigrationAwareDriverAdapterFactory } from "@prisma/driver-adapter-utils";
import { PrismaPGlite } from "pglite-prisma-adapter";
import { lockFolder } from "./folder-lock";

/** Where the data lives. `memory` is for tests and for checking migrations. */
export type DatabaseTarget =
  | { readonly kind: "embedded"; readonly folder: string }
  | { readonly kind: "memory" }
  | { readonly kind: "server"; readonly url: string };

export interface OpenDatabase {
  readonly adapter: SqlMigrationAwareDriverAdapterFactory;
  close(): Promise<void>;
}

/** Opens the database itself; one PostgreSQL dialect, three places. */
export async function openDatabase(target: DatabaseTarget): Promise<OpenDatabase> {
  if (target.kind === "server") {
    const adapter = new PrismaPg({ connectionString: target.url });
    return { adapter, close: async () => undefined };
  }
  if (target.kind === "memory") return wrapPGlite(await PGlite.create(), () => undefined);
  const unlock = lockFolder(target.folder);
  try {
    return wrapPGlite(await PGlite.create({ dataDir: path.join(target.folder, "postgres") }), unlock);
  } catch (error) {
    unlock();
    throw error;
  }
}

function wrapPGlite(database: PGlite, unlock: () => void): OpenDatabase {
  return {
    adapter: new PrismaPGlite(database),
    close: async () => {
      if (!database.closed) await database.close();
      unlock();
    },
  };
}
