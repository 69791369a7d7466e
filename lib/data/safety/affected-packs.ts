import "server-only";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readSerial } from "@/lib/packs/serial";
import { serialSentence } from "@/lib/packs/serial-sentence";
import { type AffectedDefinition, type AffectedPack, affectedPlaces } from "@/lib/reliability/affected-packs";
import { isLot, lotKinds, NOT_RECORDED } from "@/lib/reliability/compare-by";
import { TOGETHER } from "@/lib/reliability/mixed-lots";
import { atTheWorks, outOfReach } from "@/lib/returns/custody-track";
import { Prisma } from "@/prisma/generated/client";
import { asSystem, type Transaction } from "../database";
import { shownSerial } from "../packs/pack-words";
import { chainDealerJoin } from "../reliability/pack-dealers";

export type AffectedPacks =
  | {
      readonly kind: "packs";
      readonly packs: readonly AffectedPack[];
      /** Packs that had the lot when they were built and have it no longer. */
      readonly takenOut: number;
    }
  | { readonly kind: "not-a-serial"; readonly field: "from" | "to"; readonly sentence: string };

const rowSchema = z.object({
  serial: z.string(),
  model: z.string(),
  revision: z.string(),
  built: z.string(),
  place: z.enum(affectedPlaces),
  dealer: z.string().nullable(),
  country: z.string().nullable(),
  sold: z.string().nullable(),
  failed: z.boolean(),
});

/** Model, year, week and number; the check character behind them orders nothing. */
const SERIAL_WITHOUT_CHECK = 10;

/**
 * Answers: which packs share this cause today, and where are they? As they are maintained: a lot that a repair took out no
 * longer counts, one that it put in does. Null for whoever may not propose a set of affected packs. Runs as the system,
 * because to which dealer a pack was dispatched is a column no person is granted.
 */
export async function findAffectedPacks(actor: Actor, definition: AffectedDefinition): Promise<AffectedPacks | null> {
  if (!may(actor, "propose-affected-set")) return null;
  const range = readRange(definition);
  if (range.kind === "not-a-serial") return range;
  return asSystem(async (tx) => {
    const packs = await readPacksLike(tx, Prisma.sql`${sharesSql(definition, "now")}${range.sql}`);
    const [out] = changesWithWork(definition.by)
      ? await tx.$queryRaw<{ packs: number }[]>`SELECT count(*)::int AS "packs" FROM ${packsSql}
          WHERE ${sharesSql(definition, "built")} AND NOT ${sharesSql(definition, "now")}${range.sql}`
      : [];
    return { kind: "packs", takenOut: out?.packs ?? 0, packs };
  });
}

/** The packs of which a condition on `p` is true, those first that can still be held back. Give it a system transaction. */
export async function readPacksLike(tx: Transaction, condition: Prisma.Sql): Promise<AffectedPack[]> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT p."serial", m."code" AS "model", r."code" AS "revision", to_char(p."builtOn", 'YYYY-MM-DD') AS "built",
      ${placeSql} AS "place", dl."code" || ' ' || dl."name" AS "dealer", dl."country",
      to_char(s."soldOn", 'YYYY-MM-DD') AS "sold",
      EXISTS (SELECT 1 FROM "Return" t JOIN "Decision" d ON d."id" = t."decisionId"
        WHERE t."packId" = p."id" AND d."confirmedFailure") AS "failed"
    FROM ${packsSql} WHERE ${condition}
    ORDER BY ${placeOrderSql}, p."serial"`;
  const packs = z.array(rowSchema).parse(rows);
  return packs.map(({ serial, built, sold, failed, ...pack }) => {
    return { ...pack, serial, serialShown: shownSerial(serial), builtOn: built, soldOn: sold, hasFailed: failed };
  });
}

/** The same for a file that leaves the house: for those who may take returns out of it in bulk. */
export async function exportAffectedPacks(actor: Actor, definition: AffectedDefinition): Promise<AffectedPacks | null> {
  return may(actor, "export-returns") ? findAffectedPacks(actor, definition) : null;
}

type Range = { readonly kind: "range"; readonly sql: Prisma.Sql } | Extract<AffectedPacks, { kind: "not-a-serial" }>;

function readRange({ from = "", to = "" }: AffectedDefinition): Range {
  const limits: Prisma.Sql[] = [];
  for (const [field, typed] of [
    ["from", from],
    ["to", to],
  ] as const) {
    if (typed.trim() === "") continue;
    const read = readSerial(typed);
    if (read.kind !== "serial") return { kind: "not-a-serial", field, sentence: serialSentence(read) };
    const own = Prisma.sql`left(p."serial", ${SERIAL_WITHOUT_CHECK}) COLLATE "C"`;
    const limit = read.serial.slice(0, SERIAL_WITHOUT_CHECK);
    limits.push(field === "from" ? Prisma.sql`${own} >= ${limit}` : Prisma.sql`${own} <= ${limit}`);
  }
  return { kind: "range", sql: limits.length === 0 ? Prisma.empty : Prisma.sql` AND ${Prisma.join(limits, " AND ")}` };
}

/** Work that was not struck out. */
const standsSql = Prisma.sql`NOT EXISTS (SELECT 1 FROM "WorkStrike" x WHERE x."entryId" = w."id")`;

/**
 * The dealer is the one whose customer has the pack on loan or whom it is on its way to, else the one that sold it, else that
 * of its customer's first pack where it came in another's place, as failure rates count it, else the one it was dispatched to; custody is the newest the pack has. Firmware and board are those of the last work that stands.
 */
const packsSql = Prisma.sql`"Pack" p JOIN "Revision" r ON r."id" = p."revisionId" JOIN "PackModel" m ON m."id" = r."modelId"
  LEFT JOIN "BuildRecord" b ON b."packId" = p."id" LEFT JOIN "Sale" s ON s."packId" = p."id"
  LEFT JOIN (SELECT l."packId", l."returnId" FROM "PackLoan" l WHERE l."returnedAt" IS NULL) lent ON lent."packId" = p."id"
  LEFT JOIN (SELECT u."packId", u."returnId", k."state" FROM "UnitReservation" u
    JOIN "Track" k ON k."returnId" = u."returnId" AND k."track" = 'remedy' AND k."state" IN ('sent', 'received')
    WHERE u."endedAt" IS NULL) going ON going."packId" = p."id"
  LEFT JOIN "Return" goal ON goal."id" = coalesce(lent."returnId", going."returnId")
  ${chainDealerJoin(Prisma.sql`p."id"`)}
  LEFT JOIN "Dealer" dl ON dl."id" = coalesce(goal."dealerId", s."dealerId", cd."dealer", p."dispatchedToId")
  LEFT JOIN (SELECT DISTINCT ON (w."packId") w."packId", w."firmware" FROM "WorkEntry" w
    WHERE w."firmware" IS NOT NULL AND ${standsSql} ORDER BY w."packId", w."at" DESC, w."id" DESC) written ON written."packId" = p."id"
  LEFT JOIN (SELECT DISTINCT ON (w."packId") w."packId", w."lotId" FROM "WorkEntry" w
    WHERE w."operation" = 'board-exchanged' AND ${standsSql} ORDER BY w."packId", w."at" DESC, w."id" DESC) board ON board."packId" = p."id"
  LEFT JOIN "Replacement" came ON came."newPackId" = p."id" LEFT JOIN "Replacement" gone ON gone."oldPackId" = p."id"
  LEFT JOIN LATERAL (SELECT k."state" FROM "Track" k JOIN "TrackMove" v ON v."trackId" = k."id"
    WHERE k."packId" = p."id" AND k."track" = 'custody' ORDER BY v."at" DESC, v."sequence" DESC LIMIT 1) c ON true`;

/** Out on loan or sent as a replacement it is not here, whoever scanned it before. Else what was scanned last counts; without a scan, what sale, replacement and dispatch say. A replaced pack left its customer. */
const placeSql = Prisma.sql`CASE
  WHEN lent."packId" IS NOT NULL THEN 'with-a-customer'
  WHEN going."state" = 'sent' THEN 'on-the-way'
  WHEN going."state" = 'received' THEN 'at-a-dealer'
  WHEN c."state" = ANY(${[...atTheWorks]}) THEN 'with-us'
  WHEN c."state" = ANY(${[...outOfReach]}) THEN 'out-of-reach'
  WHEN c."state" IN ('with-carrier-in', 'with-carrier-out') THEN 'on-the-way'
  WHEN c."state" = 'with-dealer' THEN 'at-a-dealer'
  WHEN c."state" = 'with-customer' THEN 'with-a-customer'
  WHEN gone."id" IS NOT NULL THEN 'at-a-dealer'
  WHEN s."id" IS NOT NULL OR came."id" IS NOT NULL THEN 'with-a-customer'
  WHEN p."dispatchedOn" IS NOT NULL THEN 'at-a-dealer'
  ELSE 'with-us' END`;

/** First what can still be held back, then what somebody rides on. */
const placeOrderSql = Prisma.sql`array_position(${[...affectedPlaces]}::text[], ${placeSql})`;

/** A pack with cells of two lots has each of them; a pair is named by both. */
function sharesSql({ by, group }: AffectedDefinition, when: "now" | "built"): Prisma.Sql {
  if (isLot(by)) {
    const still = when === "now" ? Prisma.sql`pl."removedOn" IS NULL` : Prisma.sql`pl."fittedOn" IS NULL`;
    if (group === NOT_RECORDED)
      return Prisma.sql`NOT EXISTS (SELECT 1 FROM "PackLot" pl JOIN "Lot" lo ON lo."id" = pl."lotId"
        WHERE pl."packId" = p."id" AND lo."kind" = ${lotKinds[by]} AND ${still})`;
    const has = group.split(TOGETHER).map(
      (code) => Prisma.sql`EXISTS (SELECT 1 FROM "PackLot" pl JOIN "Lot" lo ON lo."id" = pl."lotId"
        WHERE pl."packId" = p."id" AND lo."kind" = ${lotKinds[by]} AND lo."code" = ${code} AND ${still})`,
    );
    return Prisma.sql`(${Prisma.join(has, " AND ")})`;
  }
  switch (by) {
    case "revision":
      return Prisma.sql`r."code" = ${group}`;
    case "board-hardware":
      return when === "built" ? Prisma.sql`r."boardHardware" = ${group}` : boardHardwareSql(group);
    case "firmware":
      return isOrHasNone(
        when === "built" ? Prisma.sql`b."firmware"` : Prisma.sql`coalesce(written."firmware", b."firmware")`,
        group,
      );
    case "dealer":
      return isOrHasNone(Prisma.sql`dl."code" || ' ' || dl."name"`, group);
    case "country":
      return isOrHasNone(Prisma.sql`dl."country"`, group);
    default: {
      const never: never = by;
      return never;
    }
  }
}

/** What is not recorded of a pack has no value to be like. */
function isOrHasNone(value: Prisma.Sql, group: string): Prisma.Sql {
  return group === NOT_RECORDED ? Prisma.sql`(${value}) IS NULL` : Prisma.sql`${value} = ${group}`;
}

/**
 * The work names the lot of a new board and not its hardware: that is the one of the packs built with boards of the lot. Where
 * none was, nobody can tell, and the pack counts as what it was built with rather than drop out of the list.
 */
function boardHardwareSql(group: string): Prisma.Sql {
  const builtWith = Prisma.sql`SELECT nr."boardHardware" FROM "PackLot" nl JOIN "Pack" np ON np."id" = nl."packId"
    JOIN "Revision" nr ON nr."id" = np."revisionId" WHERE nl."lotId" = board."lotId" AND nl."fittedOn" IS NULL`;
  return Prisma.sql`CASE WHEN board."packId" IS NULL OR NOT EXISTS (${builtWith}) THEN r."boardHardware" = ${group}
    ELSE ${group} IN (${builtWith}) END`;
}

/** What work on a pack can change; revision, dealer and country stay as they were. */
function changesWithWork(by: AffectedDefinition["by"]): boolean {
  return isLot(by) || by === "firmware" || by === "board-hardware";
}
