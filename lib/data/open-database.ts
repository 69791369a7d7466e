import path from "node:path";
import { PGlite } from "@electric-sql/pglite";
import { PrismaPg } from "@prisma/adapter-pg";
import type { SqlMigrationAwareDriverAdapterFactory } from "@prisma/driver-adapter-utils";
import { Pool } from "pg";
import { PrismaPGlite } from "pglite-prisma-adapter";
import { lockFolder } from "./folder-lock";
import { askingOneAtATime } from "./one-query-at-a-time";

/** Where the data lives. `memory` is for tests and for checking migrations. */
export type DatabaseTarget =
  | { readonly kind: "embedded"; readonly folder: string }
  | { readonly kind: "memory" }
  | { readonly kind: "server"; readonly url: string };

export interface OpenDatabase {
  readonly adapter: SqlMigrationAwareDriverAdapterFactory;
  close(): Promise<void>;
}

/**
 * A connection is kept this long unused, ms. A new one knows no table yet, and plans its first queries ten times as long as later
 * ones (measured). Engineering default.
 */
const KEPT_UNUSED_MS = 600_000;

/** Opens the database itself; one PostgreSQL dialect, three places. */
export async function openDatabase(target: DatabaseTarget): Promise<OpenDatabase> {
  if (target.kind === "server") {
    const pool = new Pool({ connectionString: target.url, idleTimeoutMillis: KEPT_UNUSED_MS });
    return { adapter: runningWholeScripts(new PrismaPg(pool), pool), close: () => pool.end() };
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

/**
 * The adapter cuts a script at every semicolon, also inside the body of a function, and so breaks migrations that hold
 * functions. PostgreSQL itself takes a whole script in one message.
 */
function runningWholeScripts(factory: PrismaPg, pool: Pool): SqlMigrationAwareDriverAdapterFactory {
  return {
    provider: factory.provider,
    adapterName: factory.adapterName,
    connectToShadowDb: () => factory.connectToShadowDb(),
    connect: async () => {
      const adapter = await factory.connect();
      adapter.executeScript = async (script) => {
        await pool.query(script);
      };
      return askingOneAtATime(adapter);
    },
  };
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
