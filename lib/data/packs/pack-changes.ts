import "server-only";
import { lotsAfter, type PackChange } from "@/lib/repair/as-maintained";
import { readOperation, readPartKind } from "@/lib/repair/operations";
import type { Transaction } from "../database";

/** Every change of a pack that stands, oldest first. A dealer's transaction sees none: how a pack is built is the house's. */
export async function readPackChanges(tx: Transaction, packId: string): Promise<PackChange[]> {
  const rows = await tx.$queryRaw<WorkRow[]>`
    SELECT w."id"::text AS "id", w."at", w."operation", w."byName", w."note", w."identity", w."firmware", w."groups",
      w."resistanceMilliohm", l."id"::text AS "lotId", l."code" AS "lotCode", r."reference"
    FROM "WorkEntry" w JOIN "Return" r ON r."id" = w."returnId" LEFT JOIN "Lot" l ON l."id" = w."lotId"
    WHERE w."packId" = ${packId}::uuid AND NOT EXISTS (SELECT 1 FROM "WorkStrike" s WHERE s."entryId" = w."id")
    ORDER BY w."at", w."id"`;
  return rows.map(({ operation, lotId: id, lotCode: code, ...row }) => ({
    ...row,
    lot: id === null || code === null ? null : { id, code },
    operation: readOperation(operation),
  }));
}

type WorkRow = Omit<PackChange, "operation" | "lot"> & {
  readonly operation: string;
  readonly lotId: string | null;
  readonly lotCode: string | null;
};

/**
 * Brings the lots of a pack in line with the work on it. Lots it was built with stay, with the day they went out; those
 * fitted later have the day they went in, so that failure rates go on counting a pack by what it was built from.
 */
export async function bringLotsInLine(tx: Transaction, packId: string): Promise<void> {
  const rows = await tx.packLot.findMany({
    where: { packId },
    select: { lotId: true, fittedOn: true, removedOn: true, lot: { select: { kind: true } } },
  });
  const built = rows
    .filter(({ fittedOn }) => fittedOn === null)
    .map(({ lotId, lot }) => ({ lotId, kind: readPartKind(lot.kind) }));
  const wanted = lotsAfter(built, await readPackChanges(tx, packId));
  for (const { lotId, fittedAt, removedAt } of wanted) {
    const data = { fittedOn: fittedAt, removedOn: removedAt };
    if (rows.some((row) => row.lotId === lotId)) await tx.packLot.updateMany({ where: { packId, lotId }, data });
    else await tx.packLot.createMany({ data: [{ packId, lotId, ...data }] });
  }
  // Fitted by work that was struck out: it was never really in.
  for (const { lotId, fittedOn } of rows) {
    if (fittedOn !== null && !wanted.some((one) => one.lotId === lotId))
      await tx.packLot.updateMany({ where: { packId, lotId }, data: { removedOn: fittedOn } });
  }
}
