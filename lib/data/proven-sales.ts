import "server-only";
import { type CalendarDate, calendarDate } from "@/lib/warranty/calendar";
import type { Transaction } from "./database";

/** By pack, the days of purchase on proofs that were read on its own returns, of each return the last one, the oldest return first. */
export type ProvenSales = ReadonlyMap<string, readonly CalendarDate[]>;

/** Those that had been read by the end of a day. */
export async function readProvenSales(tx: Transaction, dataDate: CalendarDate): Promise<ProvenSales> {
  const rows = await tx.$queryRaw<{ packId: string; soldOn: string }[]>`
    SELECT "packId", "soldOn" FROM (
      SELECT DISTINCT ON (x."returnId") r."packId", x."provenSoldOn"::text AS "soldOn", r."lodgedAt" FROM "EarlierCover" x
        JOIN "Return" r ON r."id" = x."returnId"
        WHERE (x."replacedAt" AT TIME ZONE 'UTC')::date <= ${dataDate}::date ORDER BY x."returnId", x."number" DESC) e
    ORDER BY "lodgedAt"`;
  const proven = new Map<string, CalendarDate[]>();
  for (const { packId, soldOn } of rows) proven.set(packId, [...(proven.get(packId) ?? []), calendarDate(soldOn)]);
  return proven;
}

/**
 * Day on which a pack with a sale on record came into use: that of a delivery receipt, else the one on a proof that was read, else
 * the one entered. A proof gives a pack without a sale no day here: packs that never came back are dated by none, so those that did
 * would look worse than they are.
 */
export function soldDay(
  sale: { readonly soldOn: CalendarDate; readonly evidence: string },
  proven: readonly CalendarDate[],
): CalendarDate {
  return sale.evidence === "delivery-receipt" ? sale.soldOn : (proven[0] ?? sale.soldOn);
}
