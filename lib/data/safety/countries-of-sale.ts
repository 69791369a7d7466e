import "server-only";
import type { Transaction } from "../database";
import { LONGEST_CHAIN } from "../packs/pack-row";

/**
 * The countries in which these packs, or those they replaced, were sold, by pack: the customer is there, and the law of the place
 * may ask for a report wherever the pack came back. For whoever of the house reads incidents; a dealer sees its own sales alone.
 */
export async function readCountriesOfSale(
  tx: Transaction,
  packIds: readonly (string | null)[],
): Promise<ReadonlyMap<string, readonly string[]>> {
  const named = [...new Set(packIds.flatMap((id) => (id === null ? [] : [id])))];
  if (named.length === 0) return new Map();
  const rows = await tx.$queryRaw<{ packId: string; countries: string[] }[]>`
    WITH RECURSIVE chain("packId", "before", "step") AS (
      SELECT p, p, 0 FROM unnest(${named}::uuid[]) AS p
      UNION ALL
      SELECT c."packId", r."oldPackId", c."step" + 1 FROM chain c JOIN "Replacement" r ON r."newPackId" = c."before"
      WHERE c."step" < ${LONGEST_CHAIN}::int)
    SELECT c."packId"::text AS "packId", array_agg(DISTINCT d."country") AS "countries"
    FROM chain c JOIN "Sale" s ON s."packId" = c."before" JOIN "Dealer" d ON d."id" = s."dealerId"
    GROUP BY c."packId"`;
  return new Map(rows.map(({ packId, countries }) => [packId, countries]));
}
