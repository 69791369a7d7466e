import "server-only";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "./database";
import { decidedSql, standsSql } from "./returns-as-of";

/** Days from told to lodged of every return that stood on the data date, with the longest that could be known; equal ones counted. */
export async function readReportingLags(tx: Transaction, dataDate: CalendarDate): Promise<TruncatedLag[]> {
  return tx.$queryRaw<TruncatedLag[]>`
    SELECT "lag", "longest", count(*)::int AS "count" FROM (
      SELECT greatest(0, (t."lodgedAt" AT TIME ZONE 'UTC')::date - t."toldOn") AS "lag", ${dataDate}::date - t."toldOn" AS "longest"
      FROM "Return" t WHERE ${standsSql(Prisma.sql`${dataDate}::date`)}
    ) "lags" GROUP BY "lag", "longest"`;
}

/**
 * Days from told to the first decision that confirmed it, of every return that stood as a confirmed failure on the data date:
 * only then is it counted as one. With the longest that could be known; equal ones counted.
 */
export async function readConfirmationLags(tx: Transaction, dataDate: CalendarDate): Promise<TruncatedLag[]> {
  const day = Prisma.sql`${dataDate}::date`;
  return tx.$queryRaw<TruncatedLag[]>`
    SELECT "lag", "longest", count(*)::int AS "count" FROM (
      SELECT greatest(0, (SELECT min(f."decidedAt" AT TIME ZONE 'UTC')::date FROM "Decision" f
          WHERE f."returnId" = t."id" AND f."confirmedFailure") - t."toldOn") AS "lag", ${day} - t."toldOn" AS "longest"
      FROM "Return" t JOIN ${decidedSql(day)} d ON d."returnId" = t."id"
      WHERE d."confirmedFailure" AND ${standsSql(day)}
    ) "lags" GROUP BY "lag", "longest"`;
}
