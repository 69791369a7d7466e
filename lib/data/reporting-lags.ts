import "server-only";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "./database";
import { standsSql } from "./returns-as-of";

/** Days from told to lodged of every return that stood on the data date, with the longest that could be known; equal ones counted. */
export async function readReportingLags(tx: Transaction, dataDate: CalendarDate): Promise<TruncatedLag[]> {
  return tx.$queryRaw<TruncatedLag[]>`
    SELECT "lag", "longest", count(*)::int AS "count" FROM (
      SELECT greatest(0, (t."lodgedAt" AT TIME ZONE 'UTC')::date - t."toldOn") AS "lag", ${dataDate}::date - t."toldOn" AS "longest"
      FROM "Return" t WHERE ${standsSql(Prisma.sql`${dataDate}::date`)}
    ) "lags" GROUP BY "lag", "longest"`;
}
