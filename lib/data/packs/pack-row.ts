import "server-only";
import type { MaintainedValues } from "@/lib/repair/as-maintained";
import { packInHandStatuses } from "@/lib/returns/return-status";
import type { BuildRecord, PackModel } from "@/prisma/generated/client";
import { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";
import { approvedThresholdsSql } from "../readings/thresholds-in-force";
import { lastProofsSql } from "../warranty/proven-sales";

/** A chain of replacements longer than this is a fault in the data, not a history. */
export const LONGEST_CHAIN = 20;

type BuiltColumns = MaintainedValues &
  Pick<BuildRecord, "capacityAh" | "loadTestCurrentA" | "loadTestSagV" | "matchingSpreadMillivolt">;

interface StoredProof {
  readonly returnId: string;
  readonly soldOn: string;
  readonly readAt: string;
  readonly against: readonly string[];
}

/** What the tables hold of a pack, and of the first pack of its chain (`root`), from which cover counts. */
export interface PackRow {
  readonly packId: string;
  readonly serial: string;
  readonly builtOn: Date;
  readonly revisionId: string;
  readonly revisionCode: string;
  readonly introducedOn: Date;
  readonly changes: unknown;
  readonly potted: boolean;
  readonly cellsRepairable: boolean;
  readonly model: PackModel;
  readonly approvedThresholds: unknown;
  readonly lotCodes: readonly string[];
  readonly build: BuiltColumns | null;
  readonly replacedOn: Date | null;
  /** Somebody holds it under a return that is not over. */
  readonly hasOpenReturn: boolean;
  /** Days of the replacements by which the pack and those before it came, written YYYY-MM-DD, the pack's own first. */
  readonly deliveredOn: readonly string[];
  /** Days of purchase on proofs that were read on returns of the chain, written YYYY-MM-DD; of each return the last one. */
  readonly proofs: readonly StoredProof[];
  readonly rootBuiltOn: Date;
  readonly rootDispatchedOn: Date | null;
  readonly soldOn: Date | null;
  readonly saleZone: string | null;
  readonly saleEvidence: string | null;
  readonly saleRegisteredOn: Date | null;
  readonly saleBuyerKind: string | null;
  readonly saleCountry: string | null;
  readonly distributorSoldOn: Date | null;
  readonly distributorShelfDays: number | null;
}

/**
 * Reads it in one statement: a look-up of a serial is made while a customer waits, and relation by relation it was a dozen ways to
 * the database and back. Give it a system transaction. Null where no pack has this serial.
 */
export async function readPackRow(tx: Transaction, serial: string, now: Date): Promise<PackRow | null> {
  const rows = await tx.$queryRaw<PackRow[]>`
    WITH RECURSIVE chain("packId", "step", "deliveredOn") AS (
      SELECT p."id", 0, NULL::date FROM "Pack" p WHERE p."serial" = ${serial}
      UNION ALL
      SELECT r."oldPackId", c."step" + 1, r."deliveredOn" FROM chain c JOIN "Replacement" r ON r."newPackId" = c."packId"
      WHERE c."step" < ${LONGEST_CHAIN}::int)
    SELECT p."id"::text AS "packId", p."serial", p."builtOn", v."id"::text AS "revisionId", v."code" AS "revisionCode",
      v."introducedOn", v."changes", v."potted", v."cellsRepairable", to_jsonb(m) AS "model",
      ${approvedThresholdsSql(Prisma.sql`m."id"`, now)} AS "approvedThresholds",
      ARRAY(SELECT l."code" FROM "PackLot" k JOIN "Lot" l ON l."id" = k."lotId"
        WHERE k."packId" = p."id" AND k."removedOn" IS NULL ORDER BY k."lotId") AS "lotCodes",
      (SELECT jsonb_build_object('capacityAh', b."capacityAh", 'loadTestCurrentA', b."loadTestCurrentA", 'loadTestSagV', b."loadTestSagV",
          'groupResistanceMilliohm', b."groupResistanceMilliohm", 'matchingSpreadMillivolt', b."matchingSpreadMillivolt",
          'boardIdentity', b."boardIdentity", 'firmware', b."firmware")
        FROM "BuildRecord" b WHERE b."packId" = p."id") AS "build",
      (SELECT g."deliveredOn" FROM "Replacement" g WHERE g."oldPackId" = p."id") AS "replacedOn",
      EXISTS (SELECT FROM "Return" o WHERE o."packId" = p."id" AND o."status" = ANY (${[...packInHandStatuses]}::text[])
        AND NOT o."settledBefore") AS "hasOpenReturn",
      ARRAY(SELECT c."deliveredOn"::text FROM chain c WHERE c."step" > 0 ORDER BY c."step") AS "deliveredOn",
      COALESCE((SELECT jsonb_agg(jsonb_build_object('returnId', e."returnId", 'soldOn', e."soldOn", 'readAt', e."readAt", 'against', e."against")
        ORDER BY e."lodgedAt")
        FROM (${lastProofsSql(Prisma.sql`r."packId" IN (SELECT c."packId" FROM chain c)`)}) e), '[]'::jsonb) AS "proofs",
      root."builtOn" AS "rootBuiltOn", root."dispatchedOn" AS "rootDispatchedOn", s."soldOn", s."zone" AS "saleZone",
      s."evidence" AS "saleEvidence", s."registeredOn" AS "saleRegisteredOn", s."buyerKind" AS "saleBuyerKind",
      d."country" AS "saleCountry", w."soldOn" AS "distributorSoldOn", w."averageShelfDays" AS "distributorShelfDays"
    FROM "Pack" p
    JOIN "Revision" v ON v."id" = p."revisionId"
    JOIN "PackModel" m ON m."id" = v."modelId"
    JOIN "Pack" root ON root."id" = (SELECT c."packId" FROM chain c ORDER BY c."step" DESC LIMIT 1)
    LEFT JOIN "Sale" s ON s."packId" = root."id"
    LEFT JOIN "Dealer" d ON d."id" = s."dealerId"
    LEFT JOIN LATERAL (SELECT x."soldOn", x."averageShelfDays" FROM "DistributorSale" x WHERE x."packId" = root."id"
      ORDER BY x."importedAt" DESC LIMIT 1) w ON true
    WHERE p."serial" = ${serial}`;
  return rows[0] ?? null;
}
