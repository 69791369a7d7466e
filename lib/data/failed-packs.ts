import "server-only";
import { z } from "zod";
import type { WarrantyPolicy } from "@/lib/warranty/policy.schema";
import type { Transaction } from "./database";
import { type LifeQuestion, lifeSql } from "./life-sql";
import { shownSerial } from "./pack-words";

export interface FailedPack {
  readonly serial: string;
  readonly serialShown: string;
  readonly reference: string;
  readonly toldOn: string;
  readonly confirmedFault: string;
  /** Since first use. */
  readonly ageDays: number;
}

const rowSchema = z.object({
  serial: z.string(),
  reference: z.string(),
  told: z.string(),
  fault: z.string(),
  age: z.number(),
});

/**
 * The packs behind a group's number of failures, youngest age first. They are found by the same rules that count them, so
 * that list and number cannot disagree.
 */
export async function readFailedPacks(
  tx: Transaction,
  question: LifeQuestion & { readonly group: string },
  policies: readonly WarrantyPolicy[],
): Promise<FailedPack[]> {
  const rows = await tx.$queryRaw<unknown[]>`${await lifeSql(tx, question, policies, question.group)}
    SELECT l."serial", to_char(l."end_on", 'YYYY-MM-DD') AS "told", coalesce(l."detail", 'unknown') AS "fault", l."exit" AS "age",
      (SELECT t."reference" FROM "told" t WHERE t."pack" = l."id" AND t."outcome" = 'confirmed'
        ORDER BY t."told", t."reference" LIMIT 1) AS "reference"
    FROM "confirmed_life" l WHERE l."status" = 'failed' ORDER BY l."exit", l."serial"`;
  return z
    .array(rowSchema)
    .parse(rows)
    .map(({ serial, reference, told, fault, age }) => {
      return { serial, serialShown: shownSerial(serial), reference, toldOn: told, confirmedFault: fault, ageDays: age };
    });
}
