import { databaseTarget } from "@/lib/data/database-target";
import { openDatabase } from "@/lib/data/open-database";
import { PrismaClient } from "@/prisma/generated/client";
import { applyMigrations, chooseMode } from "@/prisma/migrate";
import { makeFleet } from "@/tests/support/made-fleet";

/** A busy machine takes many minutes to make a million packs. */
const LONGEST_MAKING_MS = 1_800_000;

/**
 * Makes a fleet in the database that DATABASE_URL names, or in an embedded one in DATA_DIR. It must be empty, or hold the fleet of
 * an earlier run, which is taken again.
 */
export async function prepareFleet(packs: number): Promise<void> {
  const database = await openDatabase(databaseTarget());
  await applyMigrations(database.adapter);
  await chooseMode(database.adapter, "live");
  const client = new PrismaClient({ adapter: database.adapter });
  await client.$transaction(
    async (tx) => {
      await tx.$queryRaw`SELECT set_config('bench.role', 'system', true)`;
      if ((await tx.pack.count()) !== packs) await makeFleet(tx, packs);
    },
    { timeout: LONGEST_MAKING_MS },
  );
  await client.$executeRawUnsafe("ANALYZE");
  await client.$disconnect();
  await database.close();
}
