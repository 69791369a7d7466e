import "server-only";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { isOfReturns, type ListedPack, type PackList, type PackListFilter } from "@/lib/reliability/pack-lists";
import { FAILED_AFTER_COVER } from "@/lib/reliability/tally-lives";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { Prisma } from "@/prisma/generated/client";
import { asActor } from "../database";
import { shownSerial } from "../packs/pack-words";
import { type CoverEnds, readCoverEnds } from "../warranty/cover-ends";
import { backInUseSql, type LifeQuestion, lifeSql } from "./life-sql";
import { confirmationLagsSql, toldWithinCover } from "./reporting-lags";
import { arisenSql, cameBackSql, failedAgainSql } from "./since-sql";

export interface PackListPage {
  readonly packs: readonly ListedPack[];
  /** All of them, also those beyond the limit. */
  readonly total: number;
}

interface ListQuestion extends LifeQuestion {
  readonly dataDate: CalendarDate;
  readonly group: string;
  readonly filter?: PackListFilter;
}

const rowSchema = z.object({
  serial: z.string(),
  stratum: z.string(),
  entry: z.number().nullable(),
  exit: z.number().nullable(),
  status: z.string(),
  detail: z.string().nullable(),
  reference: z.string().nullable(),
  total: z.coerce.number(),
});

/**
 * The packs behind a number of a group, from the very rows that the number was counted from. Null for whoever may not
 * read failure rates.
 */
export async function listPacks(
  actor: Actor,
  question: ListQuestion,
  list: PackList,
  limit: number,
): Promise<PackListPage | null> {
  if (!may(actor, "read-reliability")) return null;
  return asActor(actor, async (tx) => {
    const ends = await readCoverEnds(tx, question.dataDate);
    const rows = await tx.$queryRaw<unknown[]>`${lifeSql(ends, question, question.group)}
      SELECT l."serial", l."stratum", l."entry", l."exit", l."status", l."detail", count(*) OVER () AS "total",
        ${referenceOf(list)} AS "reference"
      FROM ${lifeOf(list)} l${returnsOf(list, question)}
      WHERE ${ofList(list, ends, question.filter?.since)}${narrowedBy(list, question.filter ?? {})}
      ORDER BY l."exit", l."serial", "reference" LIMIT ${limit}`;
    const packs = z.array(rowSchema).parse(rows);
    return {
      total: packs[0]?.total ?? 0,
      packs: packs.map(({ serial, stratum, entry, exit, status, detail, reference }) => ({
        serial,
        serialShown: shownSerial(serial),
        stratum,
        entryDays: entry,
        exitDays: status === "unsold" ? null : exit,
        status,
        detail: detail ?? "",
        reference,
      })),
    };
  });
}

/** The same for a file that leaves the house. */
export async function exportPacks(...asked: Parameters<typeof listPacks>): Promise<PackListPage | null> {
  return may(asked[0], "export-reliability") ? listPacks(...asked) : null;
}

/** A list of returns has a row for each; a list of packs names of each the first return that is meant. */
function referenceOf(list: PackList): Prisma.Sql {
  return isOfReturns(list)
    ? Prisma.sql`c."reference"`
    : Prisma.sql`(SELECT t."reference" FROM "told" t WHERE t."pack" = l."id" AND ${ofReturn(list)}
          ORDER BY t."told", t."reference" LIMIT 1)`;
}

function returnsOf(list: PackList, { dataDate, filter }: ListQuestion): Prisma.Sql {
  if (list === "each-return") return Prisma.sql` JOIN "told" c ON c."pack" = l."id"`;
  if (list !== "each-confirmed") return Prisma.empty;
  const before = filter?.confirmedBeforeDays;
  const waitedFor = before === undefined ? Prisma.empty : Prisma.sql` AND c."lag" < ${before}::int`;
  return Prisma.sql` JOIN (${confirmationLagsSql(dataDate)}) c ON c."pack" = l."id"${waitedFor}`;
}

const ofFirstReturns: readonly PackList[] = ["returns", "unclassified", "each-return", "first-returned-since"];

function lifeOf(list: PackList): Prisma.Sql {
  if (ofFirstReturns.includes(list)) return Prisma.sql`"any_life"`;
  return list === "unknown-start" || list === "each-confirmed" ? Prisma.sql`"life"` : Prisma.sql`"confirmed_life"`;
}

function ofList(list: PackList, ends: CoverEnds, since = ends.dataDate): Prisma.Sql {
  switch (list) {
    case "built":
      return Prisma.sql`true`;
    case "dispatched":
      return Prisma.sql`l."dispatched"`;
    case "in-service":
    case "at-risk":
      return Prisma.sql`l."slack" IS NOT NULL`;
    case "unknown-start":
      return Prisma.sql`l."sold" IS NULL AND l."dispatchedOn" < ${ends.dataDate}::date`;
    case "failures":
      return Prisma.sql`l."status" = 'failed'`;
    case "undecided":
      return Prisma.sql`l."status" = 'undecided'`;
    case "returns":
      return Prisma.sql`l."status" = 'returned' AND l."exit" IS NOT NULL`;
    case "unclassified":
      return Prisma.sql`l."status" = 'returned' AND l."exit" IS NOT NULL AND l."detail" IN ('undecided', 'unclassified')`;
    case "running":
      return Prisma.sql`l."status" = 'running'`;
    case "back-in-use":
      return backInUseSql(ends);
    case "failed-since":
      return arisenSql(since, "failed");
    case "undecided-since":
      return arisenSql(since, "undecided");
    case "failed-again-since":
      return failedAgainSql(since, ends);
    case "first-returned-since":
      return cameBackSql(since);
    case "not-sold":
      return Prisma.sql`l."status" = 'unsold'`;
    case "after-cover":
      return Prisma.sql`l."detail" = ${FAILED_AFTER_COVER}`;
    case "left-out":
      return Prisma.sql`l."slack" IS NULL AND l."status" <> 'unsold'`;
    case "each-return":
      return Prisma.sql`l."status" = 'returned' AND l."exit" IS NOT NULL AND ${toldWithinCover(ends.dataDate)}`;
    case "each-confirmed":
      return Prisma.sql`true`;
    default: {
      const never: never = list;
      return never;
    }
  }
}

function narrowedBy(
  list: PackList,
  { fault, fromDays, byDays, model, reason, settledDays }: PackListFilter,
): Prisma.Sql {
  // At risk as it was known then: what came since has not happened yet.
  const knownThen = Prisma.sql`l."exit" + least(0, l."slack" - ${settledDays ?? 0}::int)`;
  const age =
    list === "at-risk" ? Prisma.sql`l."entry" < ${byDays}::float8 AND ${knownThen} >= ` : Prisma.sql`l."exit" <= `;
  const conditions = [
    ...(fault === undefined ? [] : [Prisma.sql`coalesce(l."detail", 'unknown') = ${fault}`]),
    ...(byDays === undefined ? [] : [Prisma.sql`${age}${byDays}::float8`]),
    ...(fromDays === undefined ? [] : [Prisma.sql`l."exit" >= ${fromDays}::float8`]),
    ...(settledDays === undefined || list === "at-risk" ? [] : [Prisma.sql`l."slack" >= ${settledDays}::int`]),
    ...(model === undefined ? [] : [Prisma.sql`l."stratum" = ${model}`]),
    ...(reason === undefined ? [] : [Prisma.sql`l."status" = ${reason}`]),
  ];
  return conditions.length === 0 ? Prisma.empty : Prisma.sql` AND ${Prisma.join(conditions, " AND ")}`;
}

function ofReturn(list: PackList): Prisma.Sql {
  if (list === "failed-again-since") return Prisma.sql`t."outcome" = 'confirmed' AND t."told" > l."end_on"`;
  if (list === "failures" || list === "after-cover" || list === "back-in-use" || list === "failed-since")
    return Prisma.sql`t."outcome" = 'confirmed'`;
  return list === "undecided" || list === "undecided-since" ? Prisma.sql`t."outcome" = 'undecided'` : Prisma.sql`true`;
}
