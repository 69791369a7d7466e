import "server-only";
import { type CalendarDate, calendarDate } from "@/lib/warranty/calendar";
import type { StartFacts } from "@/lib/warranty/cover-facts.schema";
import { provenBy, provenDays, type ReadProof } from "@/lib/warranty/proven-days";
import { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";

/**
 * The proof that counts of each return: the last one that was read on it, or chosen on it. `only` narrows it, by the answer `x` it took the place of and
 * the return `r`.
 */
export function lastProofsSql(only: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`SELECT DISTINCT ON (x."returnId") x."returnId", r."packId", x."provenSoldOn"::text AS "soldOn", r."lodgedAt",
      x."replacedAt" AS "readAt", x."chosenAgainst"::text[] AS "against"
    FROM "EarlierCover" x JOIN "Return" r ON r."id" = x."returnId" WHERE ${only} ORDER BY x."returnId", x."number" DESC`;
}

/** A day of purchase on a proof, and when the return it was read on was lodged. */
interface ProvenSale extends ReadProof {
  readonly lodgedAt: Date;
}

interface ProvenRow {
  readonly packId: string;
  readonly soldOn: string;
  readonly lodgedAt: Date;
  readonly readAt: Date;
  readonly against: readonly string[];
}

/** By pack, the proofs that were read on its own returns, of each return the last one, the oldest return first. */
export type ProvenSales = ReadonlyMap<string, readonly ProvenSale[]>;

/** Those that had been read by the end of a day. */
export async function readProvenSales(tx: Transaction, dataDate: CalendarDate): Promise<ProvenSales> {
  const byDay = Prisma.sql`(x."replacedAt" AT TIME ZONE 'UTC')::date <= ${dataDate}::date`;
  const rows = await tx.$queryRaw<ProvenRow[]>`
    SELECT "packId", "soldOn", "lodgedAt", "readAt", "against" FROM (${lastProofsSql(byDay)}) e
    ORDER BY "lodgedAt"`;
  const proven = new Map<string, ProvenSale[]>();
  for (const { packId, soldOn, lodgedAt, readAt, against } of rows) {
    const read = { soldOn: calendarDate(soldOn), lodgedAt, readAt, against: against.map(calendarDate) };
    proven.set(packId, [...(proven.get(packId) ?? []), read]);
  }
  return proven;
}

/** What the proofs of all packs of a chain say, the oldest return first, whichever pack it was of: the order a complaint is answered in. */
export function provenOnChain(
  proven: ProvenSales,
  packIds: readonly string[],
): Pick<StartFacts, "provenOn" | "setAsideOn"> {
  const proofs = packIds
    .flatMap((id) => proven.get(id) ?? [])
    .sort((a, b) => a.lodgedAt.getTime() - b.lodgedAt.getTime());
  return proofs.length === 0 ? {} : provenBy(proofs);
}

/**
 * Day on which a pack with a sale on record came into use: that of a delivery receipt, else the one on a proof that was read, else
 * the one entered. A proof gives a pack without a sale no day here: packs that never came back are dated by none, so those that did
 * would look worse than they are.
 */
export function soldDay(
  sale: { readonly soldOn: CalendarDate; readonly evidence: string },
  proven: readonly ProvenSale[],
): CalendarDate {
  const receipt = sale.evidence === "delivery-receipt" ? { deliveryReceiptOn: sale.soldOn } : {};
  return provenDays({ ...receipt, ...provenBy(proven) })[0] ?? sale.soldOn;
}
