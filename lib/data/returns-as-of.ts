import "server-only";
import { Prisma } from "@/prisma/generated/client";

// Parts of a query that see returns as they stood at the end of a day, so that what was counted for a day stays what it was.

/** Days of a moment, in UTC. */
const dayOf = (column: Prisma.Sql) => Prisma.sql`(${column} AT TIME ZONE 'UTC')::date`;

/** The decision of each return that stood then: the newest one made by that day. */
export function decidedSql(day: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`(SELECT DISTINCT ON ("returnId") * FROM "Decision" WHERE ${dayOf(Prisma.sql`"decidedAt"`)} <= ${day}
    ORDER BY "returnId", "decidedAt" DESC, "id" DESC)`;
}

/**
 * Of a return `t`: told and lodged by then, and not yet withdrawn or merged with another. One that ended so without a move on
 * record has always been ended.
 */
export function standsSql(day: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`t."status" <> 'draft' AND t."toldOn" <= ${day} AND ${dayOf(Prisma.sql`t."lodgedAt"`)} <= ${day}
    AND (t."status" NOT IN ('withdrawn', 'merged')
    OR EXISTS (SELECT 1 FROM "ReturnMove" v WHERE v."returnId" = t."id" AND v."to" = t."status" AND ${dayOf(Prisma.sql`v."at"`)} > ${day}))`;
}
