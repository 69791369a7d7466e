import "server-only";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type BesideForecast, besideForecast, type ComeBack } from "@/lib/reliability/beside-forecast";
import { packsRunning, type RunningCell } from "@/lib/reliability/cover-basis";
import { forecastGroup } from "@/lib/reliability/cover-forecast";
import { cellsByGroup, type Line } from "@/lib/reliability/life-cell";
import { latelyLag } from "@/lib/reliability/pace";
import { type PricedForecast, priced } from "@/lib/reliability/priced-forecast";
import { type LagEstimate, reportingLag, reportingOf, settledAfterDays } from "@/lib/reliability/reporting-lag";
import type { BesideRunning } from "@/lib/reliability/waiting-returns";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { Prisma } from "@/prisma/generated/client";
import { asActor, type Transaction } from "../database";
import { type CoverEnds, readCoverEnds } from "../warranty/cover-ends";
import { readCostBook, readRevisionCosts } from "./cost-book";
import { readLifeTable } from "./life-cells";
import { backInUseSql, lifeSql } from "./life-sql";
import { readComeBack, readConfirmationLags, readReportingLags } from "./reporting-lags";

export interface ForecastPage {
  readonly dataDate: CalendarDate;
  readonly hasCoverRules: boolean;
  readonly currency: string;
  readonly revisions: readonly PricedForecast[];
  /** Of the same revisions in the same order: first returns, and failures were those undecided for too long failures. */
  readonly beside: readonly BesideForecast[];
  readonly comeBack: readonly ComeBack[];
  readonly lag: LagEstimate;
  /** How long it takes until a failure told is confirmed. */
  readonly confirmation: LagEstimate;
  /** The laws rest on what was told so many days before the data date or earlier. */
  readonly lawSettledDays: number;
  /** Returns that nobody has decided on: neither failures nor running packs. */
  readonly undecided: number;
  /** Of the same revisions in the same order: what is in no number of the forecast. */
  readonly waiting: readonly BesideRunning[];
  readonly unsold: number;
}

/** Failures to come per revision and what they will cost; null for whoever may not read forecasts. */
export async function readForecast(actor: Actor, dataDate: CalendarDate): Promise<ForecastPage | null> {
  if (!may(actor, "read-forecast")) return null;
  return asActor(actor, (tx) => foretellAll(tx, dataDate));
}

export async function foretellAll(tx: Transaction, dataDate: CalendarDate): Promise<ForecastPage> {
  const ends = await readCoverEnds(tx, dataDate);
  const lag = reportingLag(await readReportingLags(tx, dataDate));
  const confirmation = latelyLag(await readConfirmationLags(tx, dataDate));
  const lawSettledDays = settledAfterDays(confirmation);
  const { cells, excluded } = await readLifeTable(tx, ends, { by: "revision", within: "model" });
  const running = await readRunning(tx, ends);
  const runningWithoutReturn = await readRunning(tx, ends, { line: "any-return" });
  const backInUse = await readBackInUse(tx, ends);
  const byGroup = cellsByGroup(cells);
  const book = await readCostBook(tx, ends);
  const costs = await readRevisionCosts(tx, ends, book);
  const comeBack = await readComeBack(tx, ends);
  const likesOf = (code: string, of: string) =>
    costs.flatMap(({ revision, model }) => (model === of && revision !== code ? (byGroup.get(revision) ?? []) : []));
  const count = (some: readonly { readonly packs: number }[]) => some.reduce((sum, { packs }) => sum + packs, 0);
  return {
    dataDate,
    hasCoverRules: ends.hasRules,
    comeBack,
    lag,
    confirmation,
    lawSettledDays,
    undecided: count(cells.filter(({ line, status }) => line === "confirmed" && status === "undecided")),
    unsold: count(excluded.filter(({ reason, dispatched }) => reason === "unsold" && dispatched)),
    currency: book.reportingCurrency,
    waiting: costs.map(({ revision: code, cost }) => ({
      ...{ group: code, backInUse: packsRunning(backInUse.get(code) ?? []), cost },
      undecided: count(
        (byGroup.get(code) ?? []).filter(({ line, status }) => line === "confirmed" && status === "undecided"),
      ),
    })),
    beside: costs.map(({ revision: code, model }) =>
      besideForecast({
        group: code,
        cells: byGroup.get(code) ?? [],
        likes: likesOf(code, model),
        running: running.get(code) ?? [],
        runningWithoutReturn: runningWithoutReturn.get(code) ?? [],
        backInUse: backInUse.get(code) ?? [],
        comeBack,
        reporting: reportingOf(lag),
        confirmedAfterDays: lawSettledDays,
        lodgedAfterDays: settledAfterDays(lag),
      }),
    ),
    revisions: costs.map(({ revision: code, model, cost }) => {
      const cells = byGroup.get(code) ?? [];
      const likes = likesOf(code, model);
      const now = running.get(code) ?? [];
      const forecast = forecastGroup(cells, now, reportingOf(lag), lawSettledDays, "confirmed", likes);
      return priced({ group: code, model }, forecast, cost);
    }),
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
    WHERE "status" = 'running' AND "exit" IS NOT NULL AND (${soldAfter}::date IS NULL OR "sold" > ${soldAfter}::date) GROUP BY "grp", "exit", "cover_left"`;
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
      WHERE ${backInUseSql(ends)} OFFSET 0) "again" GROUP BY "grp", "age", "left"`;
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
