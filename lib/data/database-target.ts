import { readEnvironment } from "./env";
import type { DatabaseTarget } from "./open-database";

/** Where this process keeps its data. */
export function databaseTarget(): DatabaseTarget {
  const { databaseUrl, dataDir } = readEnvironment();
  return databaseUrl === null ? { kind: "embedded", folder: dataDir } : { kind: "server", url: databaseUrl };
}
