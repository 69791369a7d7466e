import "server-only";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { RunningCell } from "@/lib/reliability/cover-basis";
import { type ForecastFacts, type ForecastPage, foretell } from "@/lib/reliability/foretell";
import type { Line } from "@/lib/reliability/life-cell";
import { latelyLag } from "@/lib/reliability/pace";
import { reportingLag } from "@/lib/reliability/reporting-lag";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { Prisma } from "@/prisma/generated/client";
import { asActor, type Transaction } from "../database";
import { type CoverEnds, readCoverEnds } from "../warranty/cover-ends";
import { readCostBook, readRevisionCosts } from "./cost-book";
import { readLifeTable } from "./life-cells";
import { backInUseSql, lifeSql } from "./life-sql";
import { readComeBack, readConfirmationLags, readReportingLags } from "./reporting-lags";

/**
 * Failures to come per revision and what they will cost, computed when the transaction has ended; null for whoever may not read
 * forecasts.
 */
export async function readForecast(actor: Actor, dataDate: CalendarDate): Promise<ForecastPage | null> {
  if (!may(actor, "read-forecast")) return null;
  return foretell(await asActor(actor, (tx) => readForecastFacts(tx, dataDate)));
}

export async function readForecastFacts(tx: Transaction, dataDate: CalendarDate): Promise<ForecastFacts> {
  const ends = await readCoverEnds(tx, dataDate);
  const lag = reportingLag(await readReportingLags(tx, dataDate));
  const confirmation = latelyLag(await readConfirmationLags(tx, dataDate));
  const table = await readLifeTable(tx, ends, { by: "revision", within: "model" });
  const running = await readRunning(tx, ends);
  const runningWithoutReturn = await readRunning(tx, ends, { line: "any-return" });
  const backInUse = await readBackInUse(tx, ends);
  const book = await readCostBook(tx, ends);
  const costs = await readRevisionCosts(tx, ends, book);
  const comeBack = await readComeBack(tx, ends);
  return {
    ...{ dataDate, hasCoverRules: ends.hasRules, currency: book.reportingCurrency, table, lag, confirmation },
    ...{ running, runningWithoutReturn, backInUse, costs, comeBack },
  };
}

/** The same for a file that leaves the house: asked for as an act of its own. */
export async function exportForecast(actor: Actor, dataDate: CalendarDate): Promise<ForecastPage | null> {
  return may(actor, "export-forecast") ? readForecast(actor, dataDate) : null;
}

const rowSchema = z.object({
  grp: z.string(),
  age: z.number(),
  left: z.number().nullable(),
  packs: z.number(),
});

/**
 * Packs that run under cover on the data date, by revision, age and days of cover left; those alone that were sold after a day,
 * or that never came back.
 */
export async function readRunning(
  tx: Transaction,
  ends: CoverEnds,
  { line = "confirmed", soldAfter = null }: { readonly line?: Line; readonly soldAfter?: CalendarDate | null } = {},
): Promise<Map<string, RunningCell[]>> {
  const life = Prisma.raw(line === "confirmed" ? `"confirmed_life"` : `"any_life"`);
  const rows = await tx.$queryRaw<unknown[]>`${lifeSql(ends, { by: "revision", within: "model" })}
    SELECT "grp", "exit" AS "age", "cover_left" AS "left", count(*)::int AS "packs" FROM ${life}
    WHERE "status" = 'running' AND "exit" IS NOT NULL AND (${soldAfter}::date IS NULL OR "sold" > ${soldAfter}::date) GROUP BY "grp", "exit", "cover_left"
    ORDER BY "grp", "exit", "cover_left"`;
  return cellsOfRows(rows);
}

/**
 * Packs that were put right after a confirmed failure and are in use again under cover, by revision. Their age is that at which they failed
 * and the days since, without those from told to handed back.
 */
async function readBackInUse(tx: Transaction, ends: CoverEnds): Promise<Map<string, RunningCell[]>> {
  const today = Prisma.sql`${ends.dataDate}::date`;
  const away = Prisma.sql`(SELECT coalesce(sum(greatest(0, least(t."handed_back", ${today}) - t."told")), 0)::int FROM "told" t
    WHERE t."pack" = l."id" AND t."told" >= l."end_on" AND NOT t."stayed")`;
  const rows = await tx.$queryRaw<unknown[]>`${lifeSql(ends, { by: "revision", within: "model" })}
    SELECT "grp", greatest(1, "age") AS "age", "left", count(*)::int AS "packs" FROM (
      SELECT l."grp", l."exit" + (${today} - l."end_on") - ${away} AS "age", l."cover_left" AS "left" FROM "confirmed_life" l
      WHERE ${backInUseSql(ends)} OFFSET 0) "again" GROUP BY "grp", 2, "left"
    ORDER BY "grp", 2, "left"`;
  return cellsOfRows(rows);
}

function cellsOfRows(rows: readonly unknown[]): Map<string, RunningCell[]> {
  const byGroup = new Map<string, RunningCell[]>();
  for (const row of rows) {
    const { grp, age, left, packs } = rowSchema.parse(row);
    const cells = byGroup.get(grp) ?? [];
    byGroup.set(grp, cells);
    cells.push({ ageDays: age, coverLeftDays: left, packs });
  }
  return byGroup;
}
