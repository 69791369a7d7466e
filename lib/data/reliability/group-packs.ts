import "server-only";
import { z } from "zod";
import type { PlaceHistory } from "@/lib/reliability/repeat-returns";
import type { UndatedPacks } from "@/lib/reliability/unknown-start";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";
import { shownSerial } from "../packs/pack-words";
import type { CoverEnds } from "../warranty/cover-ends";
import { type LifeQuestion, lifeSql } from "./life-sql";

export interface FailedPack {
  readonly serial: string;
  readonly serialShown: string;
  readonly reference: string;
  readonly toldOn: string;
  readonly confirmedFault: string;
  /** Since first use. */
  readonly ageDays: number;
}

export interface KnownStarts {
  /** Packs that were dispatched and have no day of sale. */
  readonly undated: readonly UndatedPacks[];
  /** How long after dispatch the others were sold. */
  readonly delays: readonly TruncatedLag[];
}

export interface GroupPacks extends KnownStarts {
  /** The packs behind the number of failures, youngest age first; found by the same rules that count them. */
  readonly failures: readonly FailedPack[];
  /**
   * Customers who got a pack of the group first, equal histories counted: watched from the sale (or where observation began)
   * to the end of that pack's cover, the day on which they were left without a pack, or the data date, with every return of it and of the packs that took its place.
   */
  readonly places: readonly PlaceOfModel[];
}

/** With the model of the first pack. */
export interface PlaceOfModel extends PlaceHistory {
  readonly stratum: string;
}

const startSchema = z.object({
  grp: z.string(),
  isDated: z.boolean(),
  lag: z.number().nullable(),
  longest: z.number(),
  packs: z.number(),
});

const rowSchema = z.object({
  failures: z.array(
    z.object({ serial: z.string(), reference: z.string(), told: z.string(), fault: z.string(), age: z.number() }),
  ),
  starts: z.array(startSchema),
  places: z.array(
    z.object({
      stratum: z.string(),
      from: z.number(),
      to: z.number(),
      returns: z.array(z.number()),
      places: z.number(),
    }),
  ),
});

/** All that is asked of the packs of one group themselves, in one reading: their lives are put together once. */
export async function readGroupPacks(
  tx: Transaction,
  ends: CoverEnds,
  question: LifeQuestion & { readonly group: string },
): Promise<GroupPacks> {
  const today = Prisma.sql`${ends.dataDate}::date`;
  const list = (name: string) => Prisma.sql`(SELECT coalesce(json_agg(x), '[]') FROM ${Prisma.raw(`"${name}"`)} x)`;
  const [row] = await tx.$queryRaw<unknown[]>`${lifeSql(ends, question, question.group)},
    "failures" AS (${failuresSql}), "starts" AS (${startsSql(today)}), ${placesSql(today)}
    SELECT ${list("failures")} AS "failures", ${list("starts")} AS "starts", ${list("places")} AS "places"`;
  const { failures, starts, places } = rowSchema.parse(row);
  return {
    failures: failures.map(({ serial, reference, told, fault, age }) => {
      return { serial, serialShown: shownSerial(serial), reference, toldOn: told, confirmedFault: fault, ageDays: age };
    }),
    ...startsOf(starts),
    places,
  };
}

/** For every group at once, where no more is asked than this. */
export async function readStartsByGroup(
  tx: Transaction,
  ends: CoverEnds,
  question: LifeQuestion,
): Promise<ReadonlyMap<string, KnownStarts>> {
  const rows = await tx.$queryRaw<
    unknown[]
  >`${lifeSql(ends, question)} ${startsSql(Prisma.sql`${ends.dataDate}::date`)}`;
  const byGroup = new Map<string, z.output<typeof startSchema>[]>();
  for (const start of z.array(startSchema).parse(rows))
    byGroup.set(start.grp, [...(byGroup.get(start.grp) ?? []), start]);
  return new Map([...byGroup].map(([group, starts]) => [group, startsOf(starts)]));
}

function startsOf(starts: readonly z.output<typeof startSchema>[]): KnownStarts {
  return {
    undated: starts
      .filter(({ isDated }) => !isDated)
      .map(({ lag, longest, packs }) => ({ sinceDispatch: longest, failedAfter: lag, packs })),
    delays: starts.flatMap(({ isDated, lag, longest, packs }) =>
      isDated && lag !== null ? [{ lag, longest, count: packs }] : [],
    ),
  };
}

const failuresSql = Prisma.sql`
  SELECT l."serial", to_char(l."end_on", 'YYYY-MM-DD') AS "told", coalesce(l."detail", 'unknown') AS "fault", l."exit" AS "age",
    (SELECT t."reference" FROM "told" t WHERE t."pack" = l."id" AND t."outcome" = 'confirmed'
      ORDER BY t."told", t."reference" LIMIT 1) AS "reference"
  FROM "confirmed_life" l WHERE l."status" = 'failed' ORDER BY l."exit", l."serial"`;

const startsSql = (today: Prisma.Sql) => Prisma.sql`
  SELECT "grp", "sold" IS NOT NULL AS "isDated", CASE WHEN "sold" IS NULL THEN "failed" ELSE "sold" END - "dispatchedOn" AS "lag",
    ${today} - "dispatchedOn" AS "longest", count(*)::int AS "packs"
  FROM "life" WHERE "dispatchedOn" <= ${today} AND ("sold" IS NULL OR "sold" BETWEEN "dispatchedOn" AND ${today})
  GROUP BY 1, 2, 3, 4`;

const placesSql = (today: Prisma.Sql) => Prisma.sql`
  "chain" AS (
    SELECT "oldPackId" AS "root", "newPackId" AS "pack" FROM "Replacement"
    WHERE "oldPackId" NOT IN (SELECT "newPackId" FROM "Replacement")
    UNION ALL SELECT c."root", r."newPackId" FROM "chain" c JOIN "Replacement" r ON r."oldPackId" = c."pack"
  ),
  "coming" AS (
    SELECT coalesce(c."root", t."pack") AS "root", t."told", CASE WHEN t."leaves_none" THEN t."taken_in" END AS "left" FROM "told" t LEFT JOIN "chain" c ON c."pack" = t."pack"
  ),
  "place" AS (
    SELECT l."id", l."stratum", l."entry" AS "from",
      least(${today} + least(0, l."cover_left"), CASE WHEN min(m."left") IS NOT NULL THEN greatest(l."sold" + 1, min(m."left")) END)
        - l."sold" AS "to",
      array_agg(greatest(1, m."told" - l."sold") ORDER BY m."told")
        FILTER (WHERE greatest(1, m."told" - l."sold") > l."entry" AND m."told" <= ${today} + least(0, l."cover_left")) AS "returns"
    FROM "life" l LEFT JOIN "coming" m ON m."root" = l."id"
    WHERE l."refused" IS NULL AND l."id" NOT IN (SELECT "newPackId" FROM "Replacement")
    GROUP BY l."id", l."stratum", l."entry", l."cover_left", l."sold"
  ),
  "places" AS (
    SELECT "stratum", "from", "to", coalesce("returns", '{}') AS "returns", count(*)::int AS "places" FROM "place"
    WHERE "to" > "from" GROUP BY 1, 2, 3, 4
  )`;
