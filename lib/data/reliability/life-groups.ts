import "server-only";
import { type CompareBy, isLot, type LotBy, lotKinds, NOT_RECORDED, type Stratum } from "@/lib/reliability/compare-by";
import { TOGETHER } from "@/lib/reliability/mixed-lots";
import { Prisma } from "@/prisma/generated/client";
import { packDealerJoin } from "./pack-dealers";

// The parts of a query that name a pack's group and stratum; p, r, m and s are its pack, revision, model and sale.

export function stratumSql(within: Stratum): Prisma.Sql {
  return within === "model"
    ? Prisma.sql`m."code"`
    : Prisma.sql`m."code" || ', ' || coalesce(dl."country", ${NOT_RECORDED})`;
}

/** Whether a pack is of the group asked about; what `belongsTo` says of the texts. */
export function isOfGroupSql(by: CompareBy, group: string): Prisma.Sql {
  const own = groupSql(by);
  return isLot(by)
    ? Prisma.sql`(${own} = ${group} OR ${group} = ANY(string_to_array(${own}, ${TOGETHER})))`
    : Prisma.sql`${own} = ${group}`;
}

/** One text a pack. A pack with cells of two lots stands under both, so that no sum counts it twice: see `belongsTo`. */
export function groupSql(by: CompareBy): Prisma.Sql {
  switch (by) {
    case "revision":
      return Prisma.sql`r."code"`;
    case "cell-lot":
      return Prisma.sql`coalesce(${lotSql("cell")}, ${NOT_RECORDED})`;
    case "joining-job":
      return Prisma.sql`coalesce(${lotSql("joining")}, ${NOT_RECORDED})`;
    case "potting-batch":
      return Prisma.sql`coalesce(${lotSql("potting")}, ${NOT_RECORDED})`;
    case "board-lot":
      return Prisma.sql`coalesce(${lotSql("board")}, ${NOT_RECORDED})`;
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

type LotKind = (typeof lotKinds)[LotBy];

/** A pack mostly has one lot of a kind; only where it has more are their codes put together. */
function lotSql(kind: LotKind): Prisma.Sql {
  const { code, lots } = lotColumns(kind);
  return Prisma.sql`CASE WHEN lots.${lots} > 1 THEN (
    SELECT string_agg(lo."code", ${TOGETHER} ORDER BY lo."code") FROM "PackLot" pl JOIN "Lot" lo ON lo."id" = pl."lotId"
    WHERE pl."packId" = p."id" AND lo."kind" = ${kind} AND pl."fittedOn" IS NULL
  ) ELSE lots.${code} END`;
}

function lotColumns(kind: LotKind) {
  return { code: Prisma.raw(`"${kind}_lot"`), lots: Prisma.raw(`"${kind}_lots"`) };
}

/** What the given attributes of a pack are read from, each table once. */
export function joinSql(attributes: readonly CompareBy[], within: Stratum): Prisma.Sql {
  const kinds = attributes.filter(isLot).map((by) => lotKinds[by]);
  const needsDealer = attributes.some((by) => by === "dealer" || by === "country") || within === "model-and-country";
  const joins = [
    ...(kinds.length === 0 ? [] : [lotJoin(kinds)]),
    ...(attributes.includes("firmware") ? [Prisma.sql`LEFT JOIN "BuildRecord" b ON b."packId" = p."id"`] : []),
    ...(needsDealer ? [packDealerJoin(Prisma.sql`p."id"`)] : []),
  ];
  return joins.length === 0 ? Prisma.empty : Prisma.join(joins, " ");
}

function lotJoin(kinds: readonly LotKind[]): Prisma.Sql {
  const columns = kinds.map((kind) => {
    const { code, lots } = lotColumns(kind);
    const ofKind = Prisma.sql`FILTER (WHERE lo."kind" = ${kind})`;
    return Prisma.sql`min(lo."code") ${ofKind} AS ${code}, count(*) ${ofKind} AS ${lots}`;
  });
  return Prisma.sql`LEFT JOIN (
    SELECT pl."packId", ${Prisma.join(columns)} FROM "PackLot" pl JOIN "Lot" lo ON lo."id" = pl."lotId"
    WHERE lo."kind" = ANY(${[...kinds]}) AND pl."fittedOn" IS NULL GROUP BY pl."packId"
  ) lots ON lots."packId" = p."id"`;
}
