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
 * Of a return `t`: told and lodged by then, and not yet withdrawn or merged with another. One that ended so without a move on
 * record has always been ended.
 */
export function standsSql(day: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`t."status" <> 'draft' AND t."toldOn" <= ${day} AND ${dayOf(Prisma.sql`t."lodgedAt"`, dealerZone)} <= ${day}
    AND (t."status" NOT IN ('withdrawn', 'merged')
    OR EXISTS (SELECT 1 FROM "ReturnMove" v WHERE v."returnId" = t."id" AND v."to" = t."status"
      AND ${dayOf(Prisma.sql`v."at"`, dealerZone)} > ${day}))`;
}
