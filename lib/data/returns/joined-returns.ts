import "server-only";
import type { Transaction } from "../database";

/** The returns of one complaint: this one, those joined with it and the one it goes on in, directly or through another. */
export async function readJoinedReturns(tx: Transaction, returnId: string): Promise<string[]> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    WITH RECURSIVE "onward" AS (
      SELECT r."id", r."mergedIntoId" FROM "Return" r WHERE r."id" = ${returnId}::uuid
      UNION SELECT r."id", r."mergedIntoId" FROM "Return" r JOIN "onward" o ON r."id" = o."mergedIntoId"
    ), "joined" AS (
      SELECT "id" FROM "onward"
      UNION SELECT r."id" FROM "Return" r JOIN "joined" j ON r."mergedIntoId" = j."id"
    )
    SELECT "id"::text AS "id" FROM "joined"`;
  return rows.map(({ id }) => id);
}
