import "server-only";
import { z } from "zod";
import type { UndatedPacks } from "@/lib/reliability/unknown-start";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import type { WarrantyPolicy } from "@/lib/warranty/policy.schema";
import type { Transaction } from "./database";
import { type LifeQuestion, lifeSql } from "./life-sql";

const rowSchema = z.object({
  isDated: z.boolean(),
  lag: z.number().nullable(),
  longest: z.number(),
  packs: z.number(),
});

/** Packs of a group that were dispatched and have no day of sale, and how long after dispatch the others were sold. */
export async function readUndatedPacks(
  tx: Transaction,
  question: LifeQuestion & { readonly group: string },
  policies: readonly WarrantyPolicy[],
): Promise<{ undated: UndatedPacks[]; delays: TruncatedLag[] }> {
  const { dataDate } = question;
  const rows = z.array(rowSchema).parse(
    await tx.$queryRaw<unknown[]>`${await lifeSql(tx, question, policies, question.group)}
      SELECT "sold" IS NOT NULL AS "isDated", CASE WHEN "sold" IS NULL THEN "failed" ELSE "sold" END - "dispatchedOn" AS "lag",
        ${dataDate}::date - "dispatchedOn" AS "longest", count(*)::int AS "packs"
      FROM "life" WHERE "dispatchedOn" <= ${dataDate}::date AND ("sold" IS NULL OR "sold" BETWEEN "dispatchedOn" AND ${dataDate}::date)
      GROUP BY 1, 2, 3`,
  );
  return {
    undated: rows
      .filter(({ isDated }) => !isDated)
      .map(({ lag, longest, packs }) => ({ sinceDispatch: longest, failedAfter: lag, packs })),
    delays: rows.flatMap(({ isDated, lag, longest, packs }) =>
      isDated && lag !== null ? [{ lag, longest, count: packs }] : [],
    ),
  };
}
