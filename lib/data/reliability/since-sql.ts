import "server-only";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { Prisma } from "@/prisma/generated/client";
import type { CoverEnds } from "../warranty/cover-ends";
import { decidedSql } from "./returns-as-of";

// What happened since a day to the packs a forecast of that day was about: number and list are read by the same condition.

/**
 * Of a life `l` up to a confirmed failure: it ended so since. It was sold by the day, had no return then that was open, and the return it
 * ended with was lodged after the day, whenever it had been told.
 */
export function arisenSql(from: CalendarDate, status: "failed" | "undecided"): Prisma.Sql {
  const day = Prisma.sql`${from}::date`;
  const outcome = status === "failed" ? "confirmed" : "undecided";
  return Prisma.sql`(l."status" = ${status} AND l."sold" <= ${day}
    AND EXISTS (SELECT 1 FROM "told" t WHERE t."pack" = l."id" AND t."told" = l."end_on" AND t."lodged" > ${day} AND t."outcome" = ${outcome})
    AND NOT EXISTS (
      SELECT 1 FROM "told" t JOIN "Return" r ON r."reference" = t."reference" LEFT JOIN ${decidedSql(day)} d ON d."returnId" = r."id"
      WHERE t."pack" = l."id" AND t."lodged" <= ${day} AND d."id" IS NULL))`;
}

/** Of a life `l` up to its first return: sold by the day and without a return lodged by then, it came back since. */
export function cameBackSql(from: CalendarDate): Prisma.Sql {
  const day = Prisma.sql`${from}::date`;
  return Prisma.sql`(l."status" = 'returned' AND l."exit" IS NOT NULL AND l."sold" <= ${day}
    AND NOT EXISTS (SELECT 1 FROM "told" t WHERE t."pack" = l."id" AND t."lodged" <= ${day}))`;
}

/**
 * Of a life `l` up to a confirmed failure: all its returns lodged by the day were decided then and the pack, put right, was in use again; since
 * then another failure within cover was lodged and confirmed.
 */
export function failedAgainSql(from: CalendarDate, { dataDate }: CoverEnds): Prisma.Sql {
  const day = Prisma.sql`${from}::date`;
  return Prisma.sql`(l."status" = 'failed' AND l."sold" <= ${day}
    AND EXISTS (SELECT 1 FROM "told" t WHERE t."pack" = l."id" AND t."told" = l."end_on" AND t."lodged" <= ${day} AND t."outcome" = 'confirmed')
    AND EXISTS (SELECT 1 FROM "told" t WHERE t."pack" = l."id" AND t."told" > l."end_on" AND t."lodged" > ${day} AND t."outcome" = 'confirmed'
      AND (l."cover_left" IS NULL OR t."told" <= ${dataDate}::date + l."cover_left"))
    AND NOT EXISTS (
      SELECT 1 FROM "told" t JOIN "Return" r ON r."reference" = t."reference" LEFT JOIN ${decidedSql(day)} d ON d."returnId" = r."id"
      WHERE t."pack" = l."id" AND t."lodged" <= ${day}
        AND (d."id" IS NULL OR NOT (t."stayed" OR coalesce(t."handed_back" < ${day}, false)))))`;
}
