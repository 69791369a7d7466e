import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import {
  bindMigrationAwareSqlAdapterFactory,
  type SqlMigrationAwareDriverAdapterFactory,
} from "@prisma/driver-adapter-utils";
import * as bindings from "@prisma/schema-engine-wasm/schema_engine_bg";

let started = false;

/**
 * Prisma's own schema engine as WebAssembly: the same migrations and the same ledger as `prisma migrate deploy`,
 * without the native binary that not every machine can download.
 */
export async function startSchemaEngine(
  adapter: SqlMigrationAwareDriverAdapterFactory,
  datamodels: [string, string][],
): Promise<bindings.SchemaEngine> {
  if (!started) {
    const folder = path.dirname(createRequire(import.meta.url).resolve("@prisma/schema-engine-wasm"));
    const bytes = readFileSync(path.join(folder, "schema_engine_bg.wasm"));
    const { instance } = await WebAssembly.instantiate(bytes, { "./schema_engine_bg.js": bindings });
    bindings.__wbg_set_wasm(instance.exports);
    const start = instance.exports.__wbindgen_start;
    if (typeof start === "function") start();
    started = true;
  }
  return bindings.SchemaEngine.new({ datamodels }, () => undefined, bindMigrationAwareSqlAdapterFactory(adapter));
}
