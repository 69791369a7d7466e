import "server-only";
import { z } from "zod";
import type { PlaceHistory } from "@/lib/reliability/repeat-returns";
import type { WarrantyPolicy } from "@/lib/warranty/policy.schema";
import type { Transaction } from "./database";
import { type LifeQuestion, lifeSql } from "./life-sql";

const rowSchema = z.object({
  from: z.number(),
  to: z.number(),
  returns: z.array(z.number()),
  places: z.number(),
});

/**
 * Customers who got a pack of the group first, equal histories counted: watched from the sale (or where observation began)
 * to the end of that pack's cover or the data date, with every return of it and of the packs that took its place.
 */
export async function readPlaceHistories(
  tx: Transaction,
  question: LifeQuestion & { readonly group: string },
  policies: readonly WarrantyPolicy[],
): Promise<PlaceHistory[]> {
  const { dataDate } = question;
  const rows = await tx.$queryRaw<unknown[]>`${await lifeSql(tx, question, policies, question.group)},
    "chain" AS (
      SELECT "oldPackId" AS "root", "newPackId" AS "pack" FROM "Replacement"
      WHERE "oldPackId" NOT IN (SELECT "newPackId" FROM "Replacement")
      UNION ALL SELECT c."root", r."newPackId" FROM "chain" c JOIN "Replacement" r ON r."oldPackId" = c."pack"
    ),
    "coming" AS (
      SELECT coalesce(c."root", t."pack") AS "root", t."told" FROM "told" t LEFT JOIN "chain" c ON c."pack" = t."pack"
    ),
    "place" AS (
      SELECT l."id", l."entry" AS "from", ${dataDate}::date + least(0, l."cover_left") - l."sold" AS "to",
        array_agg(greatest(1, m."told" - l."sold") ORDER BY m."told")
          FILTER (WHERE greatest(1, m."told" - l."sold") > l."entry" AND m."told" <= ${dataDate}::date + least(0, l."cover_left")) AS "returns"
      FROM "life" l LEFT JOIN "coming" m ON m."root" = l."id"
      WHERE l."refused" IS NULL AND l."id" NOT IN (SELECT "newPackId" FROM "Replacement")
      GROUP BY l."id", l."entry", l."cover_left", l."sold"
    )
    SELECT "from", "to", coalesce("returns", '{}') AS "returns", count(*)::int AS "places" FROM "place"
    WHERE "to" > "from" GROUP BY 1, 2, 3`;
  return z.array(rowSchema).parse(rows);
}
