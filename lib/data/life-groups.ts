import "server-only";
import { type CompareBy, NOT_RECORDED, type Stratum } from "@/lib/reliability/compare-by";
import { Prisma } from "@/prisma/generated/client";

/** A group whose packs are set apart as a stratum of their own. */
export interface SetApart {
  readonly by: CompareBy;
  readonly group: string;
}

// The parts of a query that name a pack's group and stratum; p, r, m and s are its pack, revision, model and sale.

export function stratumSql(within: Stratum): Prisma.Sql {
  return within === "model"
    ? Prisma.sql`m."code"`
    : Prisma.sql`m."code" || ', ' || coalesce(dl."country", ${NOT_RECORDED})`;
}

/** One text a pack. A pack with cells of two lots belongs to their pair: counted in both it would be at risk twice. */
export function groupSql(by: CompareBy): Prisma.Sql {
  switch (by) {
    case "revision":
      return Prisma.sql`r."code"`;
    case "cell-lot":
    case "joining-job":
    case "potting-batch":
    case "board-lot":
      return Prisma.sql`coalesce(lots."code", ${NOT_RECORDED})`;
    case "board-hardware":
      return Prisma.sql`r."boardHardware"`;
    case "firmware":
      return Prisma.sql`coalesce(b."firmware", ${NOT_RECORDED})`;
    case "dealer":
      return Prisma.sql`coalesce(dl."code" || ' ' || dl."name", ${NOT_RECORDED})`;
    case "country":
      return Prisma.sql`coalesce(dl."country", ${NOT_RECORDED})`;
    default: {
      const never: never = by;
      return never;
    }
  }
}

const lotKinds: Readonly<Partial<Record<CompareBy, string>>> = {
  "cell-lot": "cell",
  "joining-job": "joining",
  "potting-batch": "potting",
  "board-lot": "board",
};

export function joinSql(by: CompareBy, within: Stratum): Prisma.Sql {
  const lotKind = lotKinds[by];
  const lots =
    lotKind === undefined
      ? Prisma.empty
      : Prisma.sql`LEFT JOIN (
          SELECT pl."packId", string_agg(lo."code", ' + ' ORDER BY lo."code") AS "code"
          FROM "PackLot" pl JOIN "Lot" lo ON lo."id" = pl."lotId" WHERE lo."kind" = ${lotKind} GROUP BY pl."packId"
        ) lots ON lots."packId" = p."id"`;
  const build = by === "firmware" ? Prisma.sql`LEFT JOIN "BuildRecord" b ON b."packId" = p."id"` : Prisma.empty;
  const needsDealer = by === "dealer" || by === "country" || within === "model-and-country";
  const dealer = needsDealer ? Prisma.sql`LEFT JOIN "Dealer" dl ON dl."id" = s."dealerId"` : Prisma.empty;
  return Prisma.sql`${lots} ${build} ${dealer}`;
}

/** Adds to the stratum, for each group set apart, whether the pack belongs to it. */
export function apartSql(apart: readonly SetApart[]): Prisma.Sql {
  const parts = apart.map(
    (one) => Prisma.sql` || CASE WHEN ${memberSql(one.by, one.group)} THEN ', of it' ELSE ', not of it' END`,
  );
  return parts.length === 0 ? Prisma.empty : Prisma.join(parts, "");
}

function memberSql(by: CompareBy, group: string): Prisma.Sql {
  const isNone = group === NOT_RECORDED;
  switch (by) {
    case "revision":
      return Prisma.sql`r."code" = ${group}`;
    case "board-hardware":
      return Prisma.sql`r."boardHardware" = ${group}`;
    case "firmware":
      return Prisma.sql`p."id" IN (SELECT "packId" FROM "BuildRecord" WHERE "firmware" = ${group})`;
    case "dealer":
      if (isNone) return Prisma.sql`s."dealerId" IS NULL`;
      return Prisma.sql`s."dealerId" IN (SELECT "id" FROM "Dealer" WHERE "code" || ' ' || "name" = ${group})`;
    case "country":
      if (isNone) return Prisma.sql`s."dealerId" IS NULL`;
      return Prisma.sql`s."dealerId" IN (SELECT "id" FROM "Dealer" WHERE "country" = ${group})`;
    default: {
      const ofKind = Prisma.sql`SELECT pl."packId" FROM "PackLot" pl JOIN "Lot" lo ON lo."id" = pl."lotId"
        WHERE lo."kind" = ${lotKinds[by]}`;
      if (isNone) return Prisma.sql`p."id" NOT IN (${ofKind})`;
      return Prisma.sql`p."id" IN (${ofKind} AND lo."code" = ANY(string_to_array(${group}, ' + ')))`;
    }
  }
}
