import "server-only";
import { Prisma } from "@/prisma/generated/client";

// Parts of a query that see returns as they stood at the end of a day, so that what was counted for a day stays what it was. Every
// day is one of the calendar of the dealer whose return it is, as the day told is: an evening in the Americas is no day later, and
// a morning in New Zealand no day earlier, than what the dealer wrote down.

/** Zone of the dealer of a return `t`. */
export const dealerZone = Prisma.sql`(SELECT z."timeZone" FROM "Dealer" z WHERE z."id" = t."dealerId")`;

/** Days of a moment in a zone. */
export const dayOf = (moment: Prisma.Sql, zone: Prisma.Sql) => Prisma.sql`(${moment} AT TIME ZONE ${zone})::date`;

/** The decision of each return that stood then: the newest one made by that day, with the day as `decided_on`. */
export function decidedSql(day: Prisma.Sql): Prisma.Sql {
  const decidedOn = dayOf(Prisma.sql`x."decidedAt"`, Prisma.sql`xd."timeZone"`);
  return Prisma.sql`(SELECT DISTINCT ON (x."returnId") x.*, ${decidedOn} AS "decided_on" FROM "Decision" x
    JOIN "Return" xr ON xr."id" = x."returnId" JOIN "Dealer" xd ON xd."id" = xr."dealerId"
    WHERE ${decidedOn} <= ${day} ORDER BY x."returnId", x."decidedAt" DESC, x."id" DESC)`;
}

/**
 * Returns that had lapsed by the end of a day and were not renewed or received since: nobody looked at the pack, which stayed in use.
 * One that was decided before it lapsed keeps what was found.
 */
function lapsedSql(day: Prisma.Sql): Prisma.Sql {
  const movedOn = dayOf(Prisma.sql`w."at"`, Prisma.sql`wd."timeZone"`);
  return Prisma.sql`(SELECT wr."id" FROM "Return" wr JOIN "Dealer" wd ON wd."id" = wr."dealerId"
      LEFT JOIN "ReturnMove" w ON w."returnId" = wr."id" AND 'lapsed' IN (w."from", w."to")
    WHERE (w."id" IS NOT NULL OR wr."status" = 'lapsed') AND NOT EXISTS (SELECT 1 FROM "Decision" wx
      WHERE wx."returnId" = wr."id" AND ${dayOf(Prisma.sql`wx."decidedAt"`, Prisma.sql`wd."timeZone"`)} <= ${day})
    GROUP BY wr."id" HAVING bool_and(w."id" IS NULL)
      OR (array_agg(w."to" ORDER BY w."sequence" DESC) FILTER (WHERE ${movedOn} <= ${day}))[1] = 'lapsed')`;
}

/**
 * Of a return `t`: told and lodged by then, and neither withdrawn, merged with another nor lapsed by then. One that ended so without
 * a move on record has always been ended.
 */
export function standsSql(day: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`t."status" <> 'draft' AND t."toldOn" <= ${day} AND ${dayOf(Prisma.sql`t."lodgedAt"`, dealerZone)} <= ${day}
    AND (t."status" NOT IN ('withdrawn', 'merged')
    OR EXISTS (SELECT 1 FROM "ReturnMove" v WHERE v."returnId" = t."id" AND v."to" = t."status"
      AND ${dayOf(Prisma.sql`v."at"`, dealerZone)} > ${day}))
    AND t."id" NOT IN ${lapsedSql(day)}`;
}
