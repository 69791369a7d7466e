import "server-only";
import type { Transaction } from "./database";

/** The returns of one complaint: this one and those that were joined with it, directly or through another. */
export async function readJoinedReturns(tx: Transaction, returnId: string): Promise<string[]> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    WITH RECURSIVE "joined" AS (
      SELECT ${returnId}::uuid AS "id"
      UNION SELECT r."id" FROM "Return" r JOIN "joined" j ON r."mergedIntoId" = j."id"
    )
    SELECT "id"::text AS "id" FROM "joined"`;
  return rows.map(({ id }) => id);
}
