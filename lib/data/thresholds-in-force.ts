import "server-only";
import { type ModelThresholds, modelThresholdsSchema } from "@/lib/packs/pack-model";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { toDateColumn } from "./calendar-columns";
import type { Transaction } from "./database";

/**
 * The thresholds by which readings of a model are judged at an instant (UTC day), as stored: those of the newest approved version that
 * has begun, else what set-up wrote with the model; null where there is neither.
 */
export async function readThresholdsInForce(
  tx: Transaction,
  model: { readonly id: string; readonly diagnosis: unknown },
  now: Date,
): Promise<unknown> {
  const row = await tx.thresholdVersion.findFirst({
    where: { modelId: model.id, state: "approved", validFrom: { lte: toDateColumn(civilDateAt(now, "UTC")) } },
    orderBy: { validFrom: "desc" },
    select: { thresholds: true },
  });
  return row === null ? model.diagnosis : row.thresholds;
}

/** Stored thresholds; none where nothing is stored. Throws where what is stored has not their shape. */
export function storedThresholds(stored: unknown): ModelThresholds {
  return modelThresholdsSchema.parse(stored ?? {});
}
