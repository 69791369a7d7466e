import "server-only";
import type { CompareBy, Stratum } from "@/lib/reliability/compare-by";
import {
  placesOutOfUse,
  remediesBackIfSent,
  remediesBackInUse,
  remediesOutOfUse,
  remediesWithoutPack,
} from "@/lib/reliability/exposure";
import { MOST_SLACK_DAYS } from "@/lib/reliability/life-cell";
import { FAILED_AFTER_COVER } from "@/lib/reliability/tally-lives";
import { Prisma } from "@/prisma/generated/client";
import type { CoverEnds } from "../warranty/cover-ends";
import { groupSql, isOfGroupSql, joinSql, stratumSql } from "./life-groups";
import { dayOf, dealerZone, decidedSql, standsSql } from "./returns-as-of";

export interface LifeQuestion {
  readonly by: CompareBy;
  readonly within: Stratum;
}

/**
 * Named parts of a query: `confirmed_life` and `any_life` have one row a pack, with its group, ages and how its life
 * ended or why it has none. Lists of packs are read from the same parts, so a number and its list cannot disagree. With a
 * `group` its packs alone.
 */
export function lifeSql(ends: CoverEnds, { by, within }: LifeQuestion, group: string | null = null): Prisma.Sql {
  const only = group === null ? Prisma.empty : Prisma.sql`WHERE ${isOfGroupSql(by, group)}`;
  const labels = Prisma.sql`${groupSql(by)} AS "grp", ${stratumSql(within)} AS "stratum"`;
  const life = perPackSql(ends, { labels, joins: joinSql([by], within), only });
  return Prisma.sql`${life},
  "confirmed_life" AS (
    SELECT "id", "serial", "grp", "stratum", "dispatched", "sold", "end_on", "cover_left", "status", "exit", "slack", "detail",
      CASE WHEN "slack" IS NOT NULL THEN "entry" END AS "entry" FROM "life"
  ),
  "any_life" AS (
    SELECT "id", "serial", "grp", "stratum", "dispatched", "sold", "any_end_on" AS "end_on", "cover_left", "entry", "any_status" AS "status", "any_exit" AS "exit",
      "any_slack" AS "slack", "any_detail" AS "detail" FROM "life"
  )`;
}

interface Labelled {
  /** Columns that say what a pack belongs to; p, r, m and s are its pack, revision, model and sale. */
  readonly labels: Prisma.Sql;
  readonly joins: Prisma.Sql;
  /** A condition on the packs; empty for all. */
  readonly only?: Prisma.Sql;
}

/**
 * `life`: one row a pack with its labels, its life up to a confirmed failure (`status`, `exit`, `slack`, `detail`; slack is
 * null where it has none, and status then says why) and its life up to the first return of any kind (`any_…`).
 * "OFFSET 0" keeps the planner from writing an expression out again wherever it is named: it is then worked out once.
 */
export function perPackSql(ends: CoverEnds, { labels, joins, only = Prisma.empty }: Labelled): Prisma.Sql {
  const today = Prisma.sql`${ends.dataDate}::date`;
  const zone = Prisma.sql`z."zone"`;
  const onDay = (move: "m" | "v") => dayOf(Prisma.raw(`${move}."at"`), zone);
  const lodgedOn = dayOf(Prisma.sql`t."lodgedAt"`, zone);
  return Prisma.sql`
  WITH RECURSIVE "sale_end" AS (SELECT unnest(${[...ends.saleDays]}::date[]) AS "sold", unnest(${[...ends.saleEnds]}::date[]) AS "ends"),
  "holiday_end" AS (SELECT unnest(${ends.holidayEnds.map(({ soldOn }) => soldOn)}::date[]) AS "sold",
    unnest(${ends.holidayEnds.map(({ country }) => country)}::text[]) AS "country", unnest(${ends.holidayEnds.map((one) => one.ends)}::date[]) AS "ends"),
  "chain_end" AS (SELECT unnest(${[...ends.packIds]}::uuid[]) AS "pack", unnest(${[...ends.packEnds]}::date[]) AS "ends"),
  "redated" AS (SELECT unnest(${[...ends.redatedIds]}::uuid[]) AS "pack", unnest(${[...ends.redatedDays]}::date[]) AS "sold"),
  "zone" AS (SELECT t."id" AS "return", ${dealerZone} AS "zone" FROM "Return" t),
  "custody" AS (
    SELECT m."returnId" AS "return", min(${onDay("m")}) FILTER (WHERE m."from" = 'with-customer') AS "left_user",
      max(${onDay("m")}) FILTER (WHERE m."to" = 'with-customer') AS "back_with_user",
      (array_agg(m."to" ORDER BY m."at" DESC, m."sequence" DESC))[1] = ANY(${[...placesOutOfUse]}) AS "gone",
      (array_agg(m."to" ORDER BY m."at" DESC, m."sequence" DESC))[1] <> 'with-customer' AS "elsewhere"
    FROM "TrackMove" m JOIN "Track" k ON k."id" = m."trackId" JOIN "zone" z ON z."return" = m."returnId"
    WHERE k."track" = 'custody' AND ${onDay("m")} <= ${today} GROUP BY m."returnId"
  ),
  "handed" AS (
    SELECT v."returnId" AS "return", max(${onDay("v")}) AS "on" FROM "ReturnMove" v JOIN "zone" z ON z."return" = v."returnId"
    WHERE v."to" = 'handed-back' AND v."from" <> 'handed-back' AND ${onDay("v")} <= ${today} GROUP BY v."returnId"
  ),
  "told" AS (
    SELECT t."packId" AS "pack", t."reference", t."toldOn" AS "told", ${lodgedOn} AS "lodged",
      CASE WHEN d."id" IS NULL THEN 'undecided' WHEN d."confirmedFailure" THEN 'confirmed'
        WHEN d."confirmedFault" = 'unknown' THEN 'unclassified' ELSE 'not-confirmed' END AS "outcome",
      d."confirmedFault" AS "fault",
      CASE WHEN (d."remedy" = ANY(${[...remediesBackInUse]}) OR (d."remedy" = ANY(${[...remediesBackIfSent]})
          AND (c."elsewhere" IS NOT NULL OR h."on" IS NOT NULL))) AND c."gone" IS NOT TRUE
        THEN coalesce(c."back_with_user", h."on", CASE WHEN c."elsewhere" THEN ${today} END, d."decided_on") END AS "handed_back",
      coalesce(c."left_user", ${lodgedOn}) AS "taken_in",
      d."id" IS NOT NULL AND (d."remedy" = ANY(${[...remediesOutOfUse]}) OR c."gone" IS TRUE) AS "for_good",
      d."remedy" = ANY(${[...remediesWithoutPack]}) AS "leaves_none", d."remedy" = 'remote-fix' AS "stayed"
    FROM "Return" t LEFT JOIN ${decidedSql(today)} d ON d."returnId" = t."id" LEFT JOIN "custody" c ON c."return" = t."id"
      LEFT JOIN "handed" h ON h."return" = t."id" JOIN "zone" z ON z."return" = t."id"
    WHERE ${standsSql(today)}
  ),
  "event" AS (
    SELECT "pack", min("told") AS "first_told", min("told") FILTER (WHERE "outcome" = 'confirmed') AS "failed",
      min("told") FILTER (WHERE "outcome" = 'undecided') AS "open",
      min("taken_in") FILTER (WHERE "for_good" AND "outcome" <> 'confirmed') AS "out_of_use",
      (array_agg("outcome" ORDER BY "told", "reference"))[1] AS "first_outcome",
      (array_agg("fault" ORDER BY "told", "reference") FILTER (WHERE "outcome" = 'confirmed'))[1] AS "fault",
      array_agg("taken_in") FILTER (WHERE "handed_back" IS NOT NULL AND "outcome" <> 'confirmed') AS "came_in",
      array_agg("handed_back") FILTER (WHERE "handed_back" IS NOT NULL AND "outcome" <> 'confirmed') AS "went_back"
    FROM "told" GROUP BY "pack"
  ),
  "unit" AS (
    SELECT p."id", p."serial", p."dispatchedOn" IS NOT NULL AS "dispatched", p."dispatchedOn", ${labels},
      coalesce(rd."sold", s."soldOn", came."deliveredOn") AS "sold", s."underObservationFrom" AS "observed",
      CASE WHEN gone."deliveredOn" <= ${today} THEN gone."deliveredOn" END AS "replaced",
      coalesce(ce."ends", he."ends", se."ends") AS "ends", e."first_told", e."failed",
      CASE WHEN e."failed" > e."open" THEN NULL ELSE e."open" END AS "open", e."out_of_use", e."first_outcome", e."fault",
      e."came_in", e."went_back"
    FROM "Pack" p JOIN "Revision" r ON r."id" = p."revisionId" JOIN "PackModel" m ON m."id" = r."modelId"
      LEFT JOIN "Sale" s ON s."packId" = p."id"
      LEFT JOIN "Replacement" came ON came."newPackId" = p."id"
      LEFT JOIN "Replacement" gone ON gone."oldPackId" = p."id"
      LEFT JOIN "event" e ON e."pack" = p."id"
      LEFT JOIN "sale_end" se ON se."sold" = s."soldOn"
      LEFT JOIN "Dealer" sd ON sd."id" = s."dealerId"
      LEFT JOIN "holiday_end" he ON he."sold" = s."soldOn" AND he."country" = sd."country"
      LEFT JOIN "chain_end" ce ON ce."pack" = p."id"
      LEFT JOIN "redated" rd ON rd."pack" = p."id"
      ${joins}
    ${only}
  ),
  "ended" AS (
    SELECT *,
      least("failed_in", "open", "out_of_use", "replaced", "ended_cover", ${today}) AS "end_on",
      least("told_in", "replaced", "ended_cover", ${today}) AS "any_end_on",
      coalesce(greatest(0, "observed" - "sold"), 0) AS "entry"
    FROM (
      SELECT *, CASE WHEN "ends" IS NULL OR "failed" <= "ends" THEN "failed" END AS "failed_in",
        CASE WHEN "ends" IS NULL OR "first_told" <= "ends" THEN "first_told" END AS "told_in",
        CASE WHEN "ends" <= ${today} THEN "ends" END AS "ended_cover"
      FROM "unit" OFFSET 0
    ) "u" OFFSET 0
  ),
  "aged" AS (
    SELECT u.*,
      CASE WHEN "failed_in" = "end_on" THEN 'failed' WHEN "open" = "end_on" THEN 'undecided'
        WHEN "out_of_use" = "end_on" THEN 'out-of-use' WHEN "replaced" = "end_on" THEN 'replaced' WHEN "ended_cover" = "end_on" THEN 'cover-ended' ELSE 'running' END AS "ending",
      CASE WHEN "told_in" = "any_end_on" THEN 'returned' WHEN "replaced" = "any_end_on" THEN 'replaced'
        WHEN "ended_cover" = "any_end_on" THEN 'cover-ended' ELSE 'running' END AS "any_ending",
      "end_on" - "sold" - CASE WHEN "came_in" IS NULL THEN 0 ELSE (
        SELECT sum(greatest(0, least(w."back", u."end_on") - w."came"))::int FROM unnest(u."came_in", u."went_back") w("came", "back")
      ) END AS "days",
      "any_end_on" - "sold" AS "any_days",
      CASE WHEN "sold" IS NULL THEN CASE WHEN "first_told" IS NULL THEN 'unsold' ELSE 'returned-without-sale-date' END
        WHEN "first_told" < "sold" THEN 'return-before-sale'
        WHEN "sold" > ${today} THEN 'not-yet-in-use'
        WHEN "sold" < ${today} AND "entry" > 0 AND "observed" >= ${today} THEN 'observation-not-begun' END AS "refused"
    FROM "ended" u OFFSET 0
  ),
  "life" AS (
    SELECT a.*, "ends" - ${today} AS "cover_left",
      coalesce("refused", CASE WHEN "sold" = ${today} AND "ending" = 'running' THEN 'not-yet-in-use'
        WHEN "age" <= "entry" THEN 'ended-before-observation' END, "ending") AS "status",
      CASE WHEN "refused" IS NULL AND "age" > "entry" THEN "age"
        WHEN "refused" = 'unsold' AND "dispatchedOn" <= ${today} THEN ${today} - "dispatchedOn" END AS "exit",
      CASE WHEN "refused" IS NULL AND "age" > "entry" THEN least(${today} - "end_on", ${MOST_SLACK_DAYS}) END AS "slack",
      CASE WHEN "refused" IS NOT NULL OR "age" <= "entry" THEN NULL WHEN "ending" = 'failed' THEN "fault"
        WHEN "ending" = 'cover-ended' AND "failed" IS NOT NULL THEN ${FAILED_AFTER_COVER} END AS "detail",
      "any_ending" AS "any_status",
      CASE WHEN "refused" IS NULL AND "any_age" > "entry" AND NOT ("sold" = ${today} AND "any_ending" = 'running')
        THEN "any_age" END AS "any_exit",
      least(${today} - "any_end_on", ${MOST_SLACK_DAYS}) AS "any_slack",
      CASE WHEN "any_ending" = 'returned' THEN "first_outcome" END AS "any_detail"
    FROM (
      SELECT *, CASE WHEN "ending" IN ('failed', 'undecided') THEN greatest(1, "days") ELSE "days" END AS "age",
        CASE WHEN "any_ending" = 'returned' THEN greatest(1, "any_days") ELSE "any_days" END AS "any_age"
      FROM "aged" OFFSET 0
    ) a
  )`;
}

/**
 * Of a life `l` that ended with a confirmed failure within cover: the pack was put right and is in use again under its cover.
 * It has no place in a life up to the first failure, nor among packs that run.
 */
export function backInUseSql({ dataDate }: CoverEnds): Prisma.Sql {
  return Prisma.sql`l."status" = 'failed' AND (l."cover_left" IS NULL OR l."cover_left" > 0)
    AND l."id" NOT IN (SELECT g."oldPackId" FROM "Replacement" g WHERE g."deliveredOn" <= ${dataDate}::date)
    AND l."id" IN (SELECT t."pack" FROM "told" t GROUP BY t."pack" HAVING bool_and(t."outcome" <> 'undecided' AND NOT t."for_good")
      AND (array_agg(t."stayed" OR coalesce(t."handed_back" < ${dataDate}::date, false) ORDER BY t."told" DESC, t."reference" DESC))[1])`;
}
