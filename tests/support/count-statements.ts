import { PGlite } from "@electric-sql/pglite";
import { Client } from "pg";
import { vi } from "vitest";

/** How many statements the database was sent meanwhile, BEGIN and COMMIT among them; on a server and embedded alike. */
export async function countStatements(run: () => Promise<unknown>): Promise<number> {
  // Each of these is called once a statement, by the driver of the database that is open; the other one stays at nought.
  const asked = [vi.spyOn(Client.prototype, "query"), vi.spyOn(PGlite.prototype, "_runExclusiveQuery")];
  try {
    await run();
    return asked.reduce((sum, spy) => sum + spy.mock.calls.length, 0);
  } finally {
    for (const spy of asked) spy.mockRestore();
  }
}
