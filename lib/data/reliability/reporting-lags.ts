import "server-only";
import type { ComeBack } from "@/lib/reliability/beside-forecast";
import { type DelayPlaces, delayPlaces } from "@/lib/reliability/delay-places";
import { type DelayedBy, groupLags } from "@/lib/reliability/group-lags";
import { latelyLag } from "@/lib/reliability/pace";
import type { LagEstimate } from "@/lib/reliability/reporting-lag";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";
import type { CoverEnds } from "../warranty/cover-ends";
import { groupSql } from "./life-groups";
import { lifeSql } from "./life-sql";
import { packDealerJoin } from "./pack-dealers";
import { dayOf, dealerZone, decidedSql, standsSql } from "./returns-as-of";

/** Days from told to lodged of every return that stood on the data date, with the longest that could be known; equal ones counted. */
export async function readReportingLags(tx: Transaction, dataDate: CalendarDate): Promise<TruncatedLag[]> {
  return tx.$queryRaw<TruncatedLag[]>`
    SELECT "lag", "longest", count(*)::int AS "count" FROM (
      SELECT greatest(0, ${dayOf(Prisma.sql`t."lodgedAt"`, dealerZone)} - t."toldOn") AS "lag", ${dataDate}::date - t."toldOn" AS "longest"
      FROM "Return" t WHERE ${standsSql(Prisma.sql`${dataDate}::date`)}
    ) "lags" GROUP BY "lag", "longest"`;
}

/** Packs that came back within cover by revision and number of returns within it, each of which stood on the data date. */
export async function readComeBack(tx: Transaction, ends: CoverEnds): Promise<ComeBack[]> {
  return tx.$queryRaw<ComeBack[]>`${lifeSql(ends, { by: "revision", within: "model" })}
    SELECT "grp" AS "group", "returns", count(*)::int AS "packs" FROM (
      SELECT l."grp", count(*)::int AS "returns" FROM "any_life" l JOIN "told" c ON c."pack" = l."id"
      WHERE l."status" = 'returned' AND l."exit" IS NOT NULL AND ${toldWithinCover(ends.dataDate)}
      GROUP BY l."id", l."grp"
    ) "by_pack" GROUP BY "grp", "returns" ORDER BY "grp", "returns"`;
}

/** Whether a return `c` of a life `l` was told before its cover ended. */
export function toldWithinCover(dataDate: CalendarDate): Prisma.Sql {
  return Prisma.sql`(l."cover_left" IS NULL OR c."told" <= ${dataDate}::date + l."cover_left")`;
}

/**
 * Days from told to the first decision that confirmed it, of every return that stood as a confirmed failure on the data date:
 * only then is it counted as one. With the longest that could be known; equal ones counted.
 */
export async function readConfirmationLags(tx: Transaction, dataDate: CalendarDate): Promise<TruncatedLag[]> {
  return tx.$queryRaw<TruncatedLag[]>`
    SELECT "lag", "longest", count(*)::int AS "count" FROM (${confirmationLagsSql(dataDate)}) "lags" GROUP BY "lag", "longest"`;
}

export type PlacedLag = TruncatedLag & Readonly<Record<DelayedBy, string>>;

/** The same with dealer and country of the sale of the pack, as comparisons name them. */
export async function readPlacedLags(tx: Transaction, dataDate: CalendarDate): Promise<PlacedLag[]> {
  return tx.$queryRaw<PlacedLag[]>`
    SELECT ${groupSql("dealer")} AS "dealer", ${groupSql("country")} AS "country", "lag", "longest", count(*)::int AS "count"
    FROM (${confirmationLagsSql(dataDate)}) "lags" LEFT JOIN "Sale" s ON s."packId" = "lags"."pack"
      ${packDealerJoin(Prisma.sql`"lags"."pack"`)}
    GROUP BY 1, 2, 3, 4`;
}

/** How long it takes until failures are confirmed: of all as it is lately, and by which delay each pack is weighed. */
export async function readDelays(tx: Transaction, dataDate: CalendarDate): Promise<Delays> {
  const placed = await readPlacedLags(tx, dataDate);
  const lag = latelyLag(placed);
  const of = (by: DelayedBy) => {
    const byGroup = new Map<string, TruncatedLag[]>();
    for (const one of placed) {
      const known = byGroup.get(one[by]);
      if (known === undefined) byGroup.set(one[by], [one]);
      else known.push(one);
    }
    return groupLags(by, byGroup, lag);
  };
  const lags = { dealer: of("dealer"), country: of("country") };
  return { lag, places: delayPlaces(lag, lags, await readCountries(tx)) };
}

export interface Delays {
  readonly lag: LagEstimate;
  readonly places: DelayPlaces;
}

/** Countries of dealers, both named as comparisons name them. */
async function readCountries(tx: Transaction): Promise<Map<string, string>> {
  const dealers = await tx.$queryRaw<{ dealer: string; country: string }[]>`
    SELECT ${groupSql("dealer")} AS "dealer", ${groupSql("country")} AS "country" FROM "Dealer" dl`;
  return new Map(dealers.map(({ dealer, country }) => [dealer, country]));
}

/** One row for each return that stood as a confirmed failure on the data date. */
export function confirmationLagsSql(dataDate: CalendarDate): Prisma.Sql {
  const day = Prisma.sql`${dataDate}::date`;
  return Prisma.sql`
    SELECT t."packId" AS "pack", t."reference", greatest(0, (SELECT min(${dayOf(Prisma.sql`f."decidedAt"`, dealerZone)}) FROM "Decision" f
        WHERE f."returnId" = t."id" AND f."confirmedFailure") - t."toldOn") AS "lag", ${day} - t."toldOn" AS "longest"
    FROM "Return" t JOIN ${decidedSql(day)} d ON d."returnId" = t."id"
    WHERE d."confirmedFailure" AND ${standsSql(day)}`;
}
