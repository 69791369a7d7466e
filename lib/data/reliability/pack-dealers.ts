import "server-only";
import { plusDays } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { Prisma } from "@/prisma/generated/client";
import { fromDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";
import { LONGEST_CHAIN } from "../packs/pack-row";

/**
 * The dealer of each pack that came in another's place and has no sale of its own: who sold the first pack of its chain, else whose
 * return the pack before it went by: the last one lodged up to the day after it was handed over (that day is of its place), where none was the
 * first one after. Its customer stayed where it was, so it is held against the packs of that dealer and country.
 */
const chainDealersSql = Prisma.sql`(
  WITH RECURSIVE "climb" AS (
    SELECT g."newPackId" AS "pack", g."oldPackId" AS "before", g."deliveredOn" AS "on", g."oldPackId" AS "old", 1 AS "step" FROM "Replacement" g
    UNION ALL
    SELECT c."pack", c."before", c."on", g."oldPackId", c."step" + 1 FROM "climb" c JOIN "Replacement" g ON g."newPackId" = c."old"
    WHERE c."step" < ${LONGEST_CHAIN}::int)
  SELECT DISTINCT ON (c."pack") c."pack", coalesce(fs."dealerId", (SELECT ft."dealerId" FROM "Return" ft
    CROSS JOIN LATERAL (SELECT (ft."lodgedAt" AT TIME ZONE 'UTC')::date > c."on" + 1 AS "isLater", extract(epoch FROM ft."lodgedAt") AS "at") l
    WHERE ft."packId" = c."before" ORDER BY l."isLater", CASE WHEN l."isLater" THEN l."at" ELSE -l."at" END, ft."id" DESC LIMIT 1)) AS "dealer"
  FROM "climb" c LEFT JOIN "Sale" fs ON fs."packId" = c."old" ORDER BY c."pack", c."step" DESC)`;

/** Joins as `cd` the dealer of a pack that came in another's place; null for every other pack. */
export function chainDealerJoin(pack: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`LEFT JOIN ${chainDealersSql} cd ON cd."pack" = ${pack}`;
}

/** Joins as `dl` the dealer of a pack, given the pack and its sale `s`. */
export function packDealerJoin(pack: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`${chainDealerJoin(pack)} LEFT JOIN "Dealer" dl ON dl."id" = coalesce(s."dealerId", cd."dealer")`;
}

export interface PackDealer {
  readonly code: string;
  readonly name: string;
  readonly country: string;
}

const dealerSelect = { select: { code: true, name: true, country: true } } as const;

/** The same dealers read with the client, link by link: by the pack that came. */
export async function readChainDealers(tx: Transaction): Promise<ReadonlyMap<string, PackDealer | null>> {
  const links = await tx.replacement.findMany({
    select: {
      newPackId: true,
      oldPackId: true,
      deliveredOn: true,
      oldPack: {
        select: {
          sale: { select: { dealer: dealerSelect } },
          returns: {
            select: { dealer: dealerSelect, lodgedAt: true },
            orderBy: [{ lodgedAt: "desc" }, { id: "desc" }],
          },
        },
      },
    },
  });
  const byNew = new Map(links.map((link) => [link.newPackId, link]));
  return new Map(
    links.map((link) => {
      let first = link;
      for (let step = 1; step < LONGEST_CHAIN; step++) first = byNew.get(first.oldPackId) ?? first;
      return [link.newPackId, first.oldPack.sale?.dealer ?? handedOverUnder(link)?.dealer ?? null];
    }),
  );
}

/** Of the returns of a pack, the newest first, the one under which another came in its place. */
function handedOverUnder<T extends { readonly lodgedAt: Date }>(link: {
  readonly deliveredOn: Date;
  readonly oldPack: { readonly returns: readonly T[] };
}): T | undefined {
  const { returns } = link.oldPack;
  const upTo = plusDays(fromDateColumn(link.deliveredOn), 1);
  return returns.find(({ lodgedAt }) => civilDateAt(lodgedAt, "UTC") <= upTo) ?? returns.at(-1);
}
