import "server-only";
import { z } from "zod";
import type { CompareBy, Stratum } from "@/lib/reliability/compare-by";
import { attributesFor } from "@/lib/reliability/delay-places";
import { type JointLives, lifeTableBy, type PlaceOfLives } from "@/lib/reliability/joint-lives";
import type { LifeTable } from "@/lib/reliability/life-cell";
import { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";
import type { CoverEnds } from "../warranty/cover-ends";
import { groupSql, joinSql, stratumSql } from "./life-groups";
import { type LifeQuestion, perPackSql } from "./life-sql";

/** All packs counted by equal lives, for one attribute; where places have delays of their own, by these too. */
export async function readLifeTable(
  tx: Transaction,
  ends: CoverEnds,
  { by, within }: LifeQuestion,
  placeOfLives: PlaceOfLives | undefined = undefined,
): Promise<LifeTable> {
  const attributes = placeOfLives === undefined ? [by] : attributesFor([by]);
  return lifeTableBy(await readJointLives(tx, ends, { attributes, within }), by, [], placeOfLives);
}

export interface JointQuestion {
  readonly attributes: readonly CompareBy[];
  readonly within: Stratum;
}

/** For this transaction alone: a fleet of some hundred thousand packs is then grouped in memory and not on disk. Measured. */
const SORTED_IN_MEMORY = "64MB";

/**
 * Counts all packs by equal lives in one aggregate, for all attributes asked for at once: what `tallyLives` does pack by
 * pack, rule for rule (the integration test holds them against each other). Only the ends of cover are worked out
 * outside the query, by the cover's own rules. Ages travel as text, which costs a third of what arrays do. Ordered throughout, so
 * that the same packs give the same sums to the last digit, whatever way the database took to them.
 */
export async function readJointLives(
  tx: Transaction,
  ends: CoverEnds,
  { attributes, within }: JointQuestion,
): Promise<JointLives[]> {
  const names = attributes.map((_, i) => Prisma.raw(`"group_${i}"`));
  const labels = Prisma.join([
    ...attributes.map((by, i) => Prisma.sql`${groupSql(by)} AS ${names[i] ?? Prisma.empty}`),
    Prisma.sql`${stratumSql(within)} AS "stratum"`,
  ]);
  const groups = Prisma.join(names);
  const life = perPackSql(ends, { labels, joins: joinSql(attributes, within) });
  await tx.$queryRaw`SELECT set_config('work_mem', ${SORTED_IN_MEMORY}, true), set_config('jit', 'off', true)`;
  const rows = await tx.$queryRaw<unknown[]>`${life}
    SELECT ARRAY[${groups}] AS "groups", "stratum", "dispatched", "status", "detail", "any_status", "any_detail",
      string_agg(concat_ws(' ', "entry", coalesce("exit", -1), coalesce("slack", -1), coalesce("any_exit", -1), "any_slack", "packs"), ' '
        ORDER BY "entry", "exit", "slack", "any_exit", "any_slack") AS "runs"
    FROM (
      SELECT ${groups}, "stratum", "dispatched", "status", "detail", "any_status", "any_detail", "entry", "exit", "slack",
        "any_exit", "any_slack", count(*) AS "packs"
      FROM "life"
      GROUP BY ${groups}, "stratum", "dispatched", "status", "detail", "any_status", "any_detail", "entry", "exit", "slack",
        "any_exit", "any_slack"
    ) "counted"
    GROUP BY ${groups}, "stratum", "dispatched", "status", "detail", "any_status", "any_detail"
    ORDER BY ${groups}, "stratum", "dispatched", "status", "detail", "any_status", "any_detail"`;
  return rows.map((row) => jointLives(attributes, rowSchema.parse(row)));
}

const lifeStatuses = ["failed", "undecided", "out-of-use", "replaced", "cover-ended", "running"] as const;

const rowSchema = z.object({
  groups: z.array(z.string()),
  stratum: z.string(),
  dispatched: z.boolean(),
  status: z.enum([
    ...lifeStatuses,
    "unsold",
    "returned-without-sale-date",
    "return-before-sale",
    "not-yet-in-use",
    "observation-not-begun",
    "ended-before-observation",
  ]),
  detail: z.string().nullable(),
  any_status: z.enum(["returned", "replaced", "cover-ended", "running"]),
  any_detail: z.enum(["confirmed", "not-confirmed", "unclassified", "undecided"]).nullable(),
  runs: z.string(),
});

const COLUMNS = 6;

function jointLives(attributes: readonly CompareBy[], row: z.output<typeof rowSchema>): JointLives {
  const { status } = row;
  const numbers = Int32Array.from(row.runs.split(" "), Number);
  const column = (of: number) =>
    Int32Array.from({ length: numbers.length / COLUMNS }, (_, i) => numbers[i * COLUMNS + of] ?? -1);
  return {
    groups: new Map(attributes.map((by, i) => [by, row.groups[i] ?? ""])),
    stratum: row.stratum,
    dispatched: row.dispatched,
    end: isLife(status) ? { kind: "life", status, detail: row.detail } : { kind: "excluded", reason: status },
    anyEnd: { status: row.any_status, detail: row.any_detail },
    runs: {
      entry: column(0),
      exit: column(1),
      slack: column(2),
      anyExit: column(3),
      anySlack: column(4),
      packs: column(5),
    },
  };
}

type Status = z.output<typeof rowSchema>["status"];

function isLife(status: Status): status is (typeof lifeStatuses)[number] {
  return lifeStatuses.some((life) => life === status);
}
