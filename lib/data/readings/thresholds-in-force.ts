import "server-only";
import { type ModelThresholds, modelThresholdsSchema } from "@/lib/packs/pack-model";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";

/**
 * The thresholds by which readings of a model are judged at an instant (UTC day), as stored: those of the newest approved version that
 * has begun, else what set-up wrote with the model; null where there is neither.
 */
export async function readThresholdsInForce(
  tx: Transaction,
  model: { readonly id: string; readonly diagnosis: unknown },
  now: Date,
): Promise<unknown> {
  const [row] = await tx.$queryRaw<{ thresholds: unknown }[]>`
    SELECT ${approvedThresholdsSql(Prisma.sql`${model.id}::uuid`, now)} AS "thresholds"`;
  return row?.thresholds ?? model.diagnosis;
}

/** Those of the newest approved version that has begun; null where none was approved. For a query that reads more than that. */
export function approvedThresholdsSql(modelId: Prisma.Sql, now: Date): Prisma.Sql {
  return Prisma.sql`(SELECT a."thresholds" FROM "ThresholdVersion" a WHERE a."modelId" = ${modelId} AND a."state" = 'approved'
    AND a."validFrom" <= ${civilDateAt(now, "UTC")}::date ORDER BY a."validFrom" DESC LIMIT 1)`;
}

/** Stored thresholds; none where nothing is stored. Throws where what is stored has not their shape. */
export function storedThresholds(stored: unknown): ModelThresholds {
  return modelThresholdsSchema.parse(stored ?? {});
}
