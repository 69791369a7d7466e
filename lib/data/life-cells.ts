import "server-only";
import { z } from "zod";
import type { CompareBy, Stratum } from "@/lib/reliability/compare-by";
import type { ExclusionReason } from "@/lib/reliability/exposure";
import { type LifeCell, type LifeTable, MOST_SLACK_DAYS } from "@/lib/reliability/life-cell";
import { FAILED_AFTER_COVER } from "@/lib/reliability/tally-lives";
import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import type { WarrantyPolicy } from "@/lib/warranty/policy.schema";
import { Prisma } from "@/prisma/generated/client";
import { fromDateColumn } from "./calendar-columns";
import { coveredPack, lastCoveredDay, readChainLinks, startSelect } from "./cover-ends";
import type { Transaction } from "./database";
import { apartSql, groupSql, joinSql, type SetApart, stratumSql } from "./life-groups";

export interface LifeQuestion {
  readonly dataDate: CalendarDate;
  readonly by: CompareBy;
  readonly within: Stratum;
  /** Groups, of any attribute, whose packs are strata of their own: what remains is not theirs. */
  readonly apart?: readonly SetApart[];
}

/**
 * Counts all packs by equal lives in one aggregate: what `tallyLives` does pack by pack, rule for rule (the integration
 * test holds them against each other). Only the ends of cover are worked out here, by the cover's own rules: one for
 * each day of sale, and one for each pack of a chain.
 */
export async function readLifeTable(
  tx: Transaction,
  question: LifeQuestion,
  policies: readonly WarrantyPolicy[],
): Promise<LifeTable> {
  const rows = await tx.$queryRaw<unknown[]>`${await lifeSql(tx, question, policies)}
    SELECT "line", "grp", "stratum", "status", "detail", "dispatched", array_agg("entry") AS "entries",
      array_agg("exit") AS "exits", array_agg("slack") AS "slacks", array_agg("packs") AS "packs"
    FROM (
      SELECT 'confirmed' AS "line", "grp", "stratum", "dispatched", "status", "detail", "entry", "exit", "slack",
        count(*)::int AS "packs"
      FROM "confirmed_life" GROUP BY "grp", "stratum", "dispatched", "status", "detail", "entry", "exit", "slack"
      UNION ALL
      SELECT 'any-return', "grp", "stratum", "dispatched", "status", "detail", "entry", "exit", "slack", count(*)::int
      FROM "any_life" WHERE "exit" IS NOT NULL AND "status" IN ('returned', 'replaced', 'cover-ended', 'running')
      GROUP BY "grp", "stratum", "dispatched", "status", "detail", "entry", "exit", "slack"
    ) "counted"
    GROUP BY "line", "grp", "stratum", "status", "detail", "dispatched"`;
  return tableOf(rows);
}

/**
 * Named parts of a query: `confirmed_life` and `any_life` have one row a pack, with its group, ages and how its life
 * ended or why it has none. Lists of packs are read from the same parts, so a number and its list cannot disagree.
 */
export async function lifeSql(
  tx: Transaction,
  { dataDate, by, within, apart = [] }: LifeQuestion,
  policies: readonly WarrantyPolicy[],
): Promise<Prisma.Sql> {
  const ends = await readCoverEnds(tx, dataDate, policies);
  const today = Prisma.sql`${dataDate}::date`;
  return Prisma.sql`
  WITH "sale_end" AS (SELECT unnest(${ends.saleDays}::date[]) AS "sold", unnest(${ends.saleEnds}::date[]) AS "ends"),
  "chain_end" AS (SELECT unnest(${ends.packIds}::uuid[]) AS "pack", unnest(${ends.packEnds}::date[]) AS "ends"),
  "told" AS (
    SELECT t."packId" AS "pack", t."reference", t."toldOn" AS "told", (t."lodgedAt" AT TIME ZONE 'UTC')::date AS "lodged",
      CASE WHEN d."id" IS NULL THEN 'undecided' WHEN d."confirmedFailure" THEN 'confirmed'
        WHEN d."confirmedFault" = 'unknown' THEN 'unclassified' ELSE 'not-confirmed' END AS "outcome",
      d."confirmedFault" AS "fault",
      CASE WHEN d."remedy" IN ('repair', 'return-as-is') THEN (d."decidedAt" AT TIME ZONE 'UTC')::date END AS "handed_back"
    FROM "Return" t LEFT JOIN "Decision" d ON d."id" = t."decisionId"
    WHERE t."status" NOT IN ('draft', 'withdrawn', 'merged') AND t."toldOn" <= ${today}
      AND (t."lodgedAt" AT TIME ZONE 'UTC')::date <= ${today}
  ),
  "event" AS (
    SELECT "pack", min("told") AS "first_told", min("told") FILTER (WHERE "outcome" = 'confirmed') AS "failed",
      min("told") FILTER (WHERE "outcome" = 'undecided') AS "open",
      (array_agg("outcome" ORDER BY "told", "reference"))[1] AS "first_outcome",
      (array_agg("fault" ORDER BY "told", "reference") FILTER (WHERE "outcome" = 'confirmed'))[1] AS "fault"
    FROM "told" GROUP BY "pack"
  ),
  "unit" AS (
    SELECT p."id", p."serial", p."dispatchedOn" IS NOT NULL AS "dispatched", p."dispatchedOn",
      ${groupSql(by)} AS "grp",
      ${stratumSql(within)}${apartSql(apart)} AS "stratum",
      coalesce(s."soldOn", came."deliveredOn") AS "sold", s."underObservationFrom" AS "observed",
      CASE WHEN gone."deliveredOn" <= ${today} THEN gone."deliveredOn" END AS "replaced",
      coalesce(ce."ends", se."ends") AS "ends", e."first_told", e."failed", e."open", e."first_outcome", e."fault"
    FROM "Pack" p JOIN "Revision" r ON r."id" = p."revisionId" JOIN "PackModel" m ON m."id" = r."modelId"
      LEFT JOIN "Sale" s ON s."packId" = p."id"
      LEFT JOIN "Replacement" came ON came."newPackId" = p."id"
      LEFT JOIN "Replacement" gone ON gone."oldPackId" = p."id"
      LEFT JOIN "event" e ON e."pack" = p."id"
      LEFT JOIN "sale_end" se ON se."sold" = s."soldOn"
      LEFT JOIN "chain_end" ce ON ce."pack" = p."id"
      ${joinSql(by, within)}
  ),
  "ended" AS (
    SELECT *,
      least("failed_in", "open", "replaced", "ended_cover", ${today}) AS "end_on",
      least("told_in", "replaced", "ended_cover", ${today}) AS "any_end_on",
      greatest(0, "observed" - "sold") AS "entry_raw"
    FROM (
      SELECT *, CASE WHEN "ends" IS NULL OR "failed" <= "ends" THEN "failed" END AS "failed_in",
        CASE WHEN "ends" IS NULL OR "first_told" <= "ends" THEN "first_told" END AS "told_in",
        CASE WHEN "ends" <= ${today} THEN "ends" END AS "ended_cover"
      FROM "unit"
    ) "u"
  ),
  "dead" AS (
    SELECT u."id", sum(greatest(0, least(t."handed_back", u."end_on") - t."lodged"))::int AS "days"
    FROM "told" t JOIN "ended" u ON u."id" = t."pack"
    WHERE t."handed_back" IS NOT NULL AND t."outcome" <> 'confirmed' GROUP BY u."id"
  ),
  "aged" AS (
    SELECT u.*, coalesce("entry_raw", 0) AS "entry",
      CASE WHEN "failed_in" = "end_on" THEN 'failed' WHEN "open" = "end_on" THEN 'undecided'
        WHEN "replaced" = "end_on" THEN 'replaced' WHEN "ended_cover" = "end_on" THEN 'cover-ended' ELSE 'running' END AS "ending",
      CASE WHEN "told_in" = "any_end_on" THEN 'returned' WHEN "replaced" = "any_end_on" THEN 'replaced'
        WHEN "ended_cover" = "any_end_on" THEN 'cover-ended' ELSE 'running' END AS "any_ending",
      "end_on" - "sold" - coalesce(d."days", 0) AS "days", "any_end_on" - "sold" AS "any_days",
      CASE WHEN "sold" IS NULL THEN CASE WHEN "first_told" IS NULL THEN 'unsold' ELSE 'returned-without-sale-date' END
        WHEN "first_told" < "sold" THEN 'return-before-sale'
        WHEN "sold" > ${today} THEN 'not-yet-in-use'
        WHEN "sold" < ${today} AND "entry_raw" > 0 AND "observed" >= ${today} THEN 'observation-not-begun' END AS "refused"
    FROM "ended" u LEFT JOIN "dead" d ON d."id" = u."id"
  ),
  "confirmed_life" AS (
    SELECT "id", "serial", "grp", "stratum", "dispatched", "sold", "end_on", "ends" - ${today} AS "cover_left",
      CASE WHEN "refused" IS NULL AND "age" > "entry" THEN "entry" END AS "entry",
      coalesce("refused", CASE WHEN "sold" = ${today} AND "ending" = 'running' THEN 'not-yet-in-use'
        WHEN "age" <= "entry" THEN 'ended-before-observation' END, "ending") AS "status",
      CASE WHEN "refused" IS NULL AND "age" > "entry" THEN "age"
        WHEN "refused" = 'unsold' THEN ${today} - "dispatchedOn" END AS "exit",
      CASE WHEN "refused" IS NULL AND "age" > "entry" THEN least(${today} - "end_on", ${MOST_SLACK_DAYS}) END AS "slack",
      CASE WHEN "refused" IS NOT NULL OR "age" <= "entry" THEN NULL WHEN "ending" = 'failed' THEN "fault"
        WHEN "ending" = 'cover-ended' AND "failed" IS NOT NULL THEN ${FAILED_AFTER_COVER} END AS "detail"
    FROM (
      SELECT *, CASE WHEN "ending" IN ('failed', 'undecided') THEN greatest(1, "days") ELSE "days" END AS "age" FROM "aged"
    ) "a"
  ),
  "any_life" AS (
    SELECT "id", "serial", "grp", "stratum", "dispatched", "entry", "any_ending" AS "status",
      CASE WHEN "refused" IS NULL AND "age" > "entry" AND NOT ("sold" = ${today} AND "any_ending" = 'running') THEN "age"
        END AS "exit",
      least(${today} - "any_end_on", ${MOST_SLACK_DAYS}) AS "slack",
      CASE WHEN "any_ending" = 'returned' THEN "first_outcome" END AS "detail"
    FROM (SELECT *, CASE WHEN "any_ending" = 'returned' THEN greatest(1, "any_days") ELSE "any_days" END AS "age" FROM "aged") "a"
  )`;
}

interface CoverEnds {
  readonly saleDays: string[];
  readonly saleEnds: (string | null)[];
  readonly packIds: string[];
  readonly packEnds: (string | null)[];
}

/** Neither evidence nor dispatch matters here: with a sale on record and no replacement, the day of sale alone decides. */
async function readCoverEnds(
  tx: Transaction,
  dataDate: CalendarDate,
  policies: readonly WarrantyPolicy[],
): Promise<CoverEnds> {
  const span = await tx.sale.aggregate({ _min: { soldOn: true }, _max: { soldOn: true } });
  const saleDays: CalendarDate[] = [];
  if (span._min.soldOn !== null && span._max.soldOn !== null) {
    const last = fromDateColumn(span._max.soldOn);
    for (let day = fromDateColumn(span._min.soldOn); day <= last; day = plusDays(day, 1)) saleDays.push(day);
  }
  const saleEnds = saleDays.map((soldOn) =>
    lastCoveredDay({ builtOn: soldOn, start: { deliveryReceiptOn: soldOn }, replacements: [] }, dataDate, policies),
  );
  const links = await readChainLinks(tx);
  const replacements = await tx.pack.findMany({
    where: { replaces: { isNot: null } },
    select: { id: true, ...startSelect },
  });
  return {
    saleDays,
    saleEnds,
    packIds: replacements.map(({ id }) => id),
    packEnds: replacements.map((pack) => lastCoveredDay(coveredPack(pack, links), dataDate, policies)),
  };
}

const lifeStatuses = ["failed", "undecided", "replaced", "cover-ended", "running", "returned"] as const;
const exclusionReasons = [
  "unsold",
  "returned-without-sale-date",
  "return-before-sale",
  "not-yet-in-use",
  "observation-not-begun",
  "ended-before-observation",
  "serial-twice",
] as const satisfies readonly ExclusionReason[];

const rowSchema = z.object({
  line: z.enum(["confirmed", "any-return"]),
  grp: z.string(),
  stratum: z.string(),
  status: z.enum([...lifeStatuses, ...exclusionReasons]),
  detail: z.string().nullable(),
  dispatched: z.boolean(),
  entries: z.array(z.number().nullable()),
  exits: z.array(z.number().nullable()),
  slacks: z.array(z.number().nullable()),
  packs: z.array(z.number()),
});

function tableOf(rows: readonly unknown[]): LifeTable {
  const cells: LifeCell[] = [];
  const excluded: { -readonly [Key in keyof LifeTable["excluded"][number]]: LifeTable["excluded"][number][Key] }[] = [];
  for (const row of rows) {
    const {
      line,
      grp: group,
      stratum,
      status,
      detail,
      dispatched,
      entries,
      exits,
      slacks,
      packs,
    } = rowSchema.parse(row);
    for (const [i, count] of packs.entries()) {
      const exitDays = exits[i] ?? null;
      if (isExclusion(status)) {
        excluded.push({ group, stratum, dispatched, reason: status, daysSinceDispatch: exitDays, packs: count });
      } else {
        cells.push({
          line,
          group,
          stratum,
          dispatched,
          entryDays: entries[i] ?? 0,
          exitDays: exitDays ?? 0,
          slackDays: slacks[i] ?? 0,
          status,
          detail,
          packs: count,
        });
      }
    }
  }
  return { cells, excluded };
}

function isExclusion(status: z.output<typeof rowSchema>["status"]): status is ExclusionReason {
  return exclusionReasons.some((reason) => reason === status);
}
