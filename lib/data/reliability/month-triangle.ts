import "server-only";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { CompareBy } from "@/lib/reliability/compare-by";
import { waitedDaysFor } from "@/lib/reliability/group-lags";
import { MOST_SLACK_DAYS } from "@/lib/reliability/life-cell";
import { type MonthTriangle, monthTriangle } from "@/lib/reliability/month-triangle";
import { daysAtMonths } from "@/lib/reliability/months-in-service";
import type { ListedPack } from "@/lib/reliability/pack-lists";
import type { LagEstimate } from "@/lib/reliability/reporting-lag";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { asActor, type Transaction } from "../database";
import { shownSerial } from "../packs/pack-words";
import { type CoverEnds, readCoverEnds } from "../warranty/cover-ends";
import { lifeSql } from "./life-sql";
import { readDelays } from "./reporting-lags";

export interface GroupAsked {
  readonly by: CompareBy;
  readonly group: string;
  /** Its packs of one model alone, by the model's code. */
  readonly model?: string | undefined;
}

export interface MonthTrianglePage {
  readonly dataDate: CalendarDate;
  readonly triangle: MonthTriangle;
  readonly lag: LagEstimate;
  /** Models of the packs of the group, also of those that were not asked for. */
  readonly models: readonly string[];
  /** Whether there is such a group at all: a pack of it, or for a revision its record. */
  readonly isKnown: boolean;
}

const lifeSchema = z.object({
  soldIn: z.string(),
  model: z.string(),
  entryDays: z.number(),
  exitDays: z.number(),
  failed: z.boolean(),
  goesOn: z.boolean(),
  slackDays: z.number(),
  packs: z.number(),
});

/** Failures of one group by month of sale and month in service; null for whoever may not read failure rates. */
export async function readMonthTriangle(
  actor: Actor,
  dataDate: CalendarDate,
  { by, group, model }: GroupAsked,
): Promise<MonthTrianglePage | null> {
  if (!may(actor, "read-reliability")) return null;
  return asActor(actor, async (tx) => {
    const { lag, places } = await readDelays(tx, dataDate);
    const delays = places.lagsOf(by);
    const ends = await readCoverEnds(tx, dataDate);
    const rows = await tx.$queryRaw<unknown[]>`${lifeSql(ends, { by, within: "model" }, group)}
      SELECT to_char("sold", 'YYYY-MM') AS "soldIn", "stratum" AS "model", "entry" AS "entryDays", "exit" AS "exitDays",
        "status" = 'failed' AS "failed", "status" IN ('running', 'undecided') AS "goesOn", "slack" AS "slackDays", count(*)::int AS "packs"
      FROM "confirmed_life" WHERE "slack" IS NOT NULL GROUP BY 1, 2, 3, 4, 5, 6, 7`;
    const lives = z.array(lifeSchema).parse(rows);
    return {
      dataDate,
      lag,
      models: [...new Set(lives.map((life) => life.model))].sort(),
      isKnown: rows.length > 0 || (await isOnRecord(tx, ends, { by, group })),
      triangle: monthTriangle(
        lives.filter((life) => model === undefined || life.model === model),
        dataDate,
        delays?.own.get(group)?.mostDays ?? (lag.kind === "lag" ? lag.mostDays : MOST_SLACK_DAYS),
        waitedDaysFor(group, lag, delays),
      ),
    };
  });
}

export interface RevisionsOfModel {
  readonly model: string;
  readonly revisions: readonly string[];
}

/** The revisions whose months of sale can be asked for, model by model, the newest first; null for whoever may not read failure rates. */
export async function listRevisionsByModel(actor: Actor): Promise<RevisionsOfModel[] | null> {
  if (!may(actor, "read-reliability")) return null;
  const models = await asActor(actor, (tx) =>
    tx.packModel.findMany({
      select: { name: true, revisions: { select: { code: true }, orderBy: { ordinal: "desc" } } },
      orderBy: { code: "asc" },
    }),
  );
  return models.map(({ name, revisions }) => ({ model: name, revisions: revisions.map(({ code }) => code) }));
}

async function isOnRecord(tx: Transaction, ends: CoverEnds, { by, group }: GroupAsked): Promise<boolean> {
  if (by === "revision") return (await tx.revision.count({ where: { code: group } })) > 0;
  const packs = await tx.$queryRaw<
    unknown[]
  >`${lifeSql(ends, { by, within: "model" }, group)} SELECT 1 FROM "confirmed_life" LIMIT 1`;
  return packs.length > 0;
}

/** The same for a file that leaves the house: asked for as an act of its own. */
export async function exportMonthTriangle(
  ...asked: Parameters<typeof readMonthTriangle>
): Promise<MonthTrianglePage | null> {
  return may(asked[0], "export-reliability") ? readMonthTriangle(...asked) : null;
}

export interface MonthCellAsked extends GroupAsked {
  /** `YYYY-MM`. */
  readonly soldIn: string;
  /** Month in service, counted from 1; missing: all of them. */
  readonly month?: number | undefined;
  /** With a month: up to this one. */
  readonly upToMonth?: number | undefined;
  /** Those alone that failed in it. */
  readonly only?: "failures" | undefined;
  /** And whose life ended so many days before the data date or earlier. */
  readonly settledDays?: number | undefined;
}

/** No pack of this trade is older: a hundred years in days. */
const MOST_DAYS = 36_525;

const packSchema = z.object({
  serial: z.string(),
  stratum: z.string(),
  entry: z.number(),
  exit: z.number(),
  status: z.string(),
  detail: z.string().nullable(),
  reference: z.string().nullable(),
});

/** The packs at risk in one cell, or of a whole month of sale, those that failed in it first. Null for whoever may not read failure rates. */
export async function listMonthPacks(
  actor: Actor,
  dataDate: CalendarDate,
  { by, group, model, soldIn, month, upToMonth, only, settledDays }: MonthCellAsked,
): Promise<ListedPack[] | null> {
  if (!may(actor, "read-reliability")) return null;
  const [from, to] = month === undefined ? [0, MOST_DAYS] : [daysAtMonths(month - 1), daysAtMonths(upToMonth ?? month)];
  return asActor(actor, async (tx) => {
    const ends = await readCoverEnds(tx, dataDate);
    const rows = await tx.$queryRaw<unknown[]>`${lifeSql(ends, { by, within: "model" }, group)}
      SELECT l."serial", l."stratum", l."entry", l."exit", l."status", l."detail",
        CASE WHEN l."status" = 'failed' THEN (SELECT t."reference" FROM "told" t WHERE t."pack" = l."id" AND t."outcome" = 'confirmed'
          ORDER BY t."told", t."reference" LIMIT 1) END AS "reference"
      FROM "confirmed_life" l
      WHERE l."slack" IS NOT NULL AND to_char(l."sold", 'YYYY-MM') = ${soldIn} AND l."exit" > ${from}::float8 AND l."entry" < ${to}::float8
        AND (${model === undefined} OR l."stratum" = ${model ?? ""}) AND l."slack" >= ${settledDays ?? 0}::int AND (${only === undefined} OR (l."status" = 'failed' AND l."exit" <= ${to}::float8))
      ORDER BY (l."status" = 'failed' AND l."exit" <= ${to}::float8) DESC, l."exit", l."serial"`;
    return z
      .array(packSchema)
      .parse(rows)
      .map(({ serial, stratum, entry, exit, status, detail, reference }) => {
        const shown = { serial, serialShown: shownSerial(serial), stratum, status, detail: detail ?? "", reference };
        return { ...shown, entryDays: entry, exitDays: exit };
      });
  });
}

/** The same for a file that leaves the house. */
export async function exportMonthPacks(...asked: Parameters<typeof listMonthPacks>): Promise<ListedPack[] | null> {
  return may(asked[0], "export-reliability") ? listMonthPacks(...asked) : null;
}
