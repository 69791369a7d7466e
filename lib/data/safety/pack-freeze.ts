import "server-only";
import { type FreezeFacts, freezeFacts } from "@/lib/safety/freeze-facts";
import type { Transaction } from "../database";

/**
 * What the incidents of a pack forbid, as far as this transaction sees them. Give it a system transaction where another
 * dealer's incident of the same pack must count.
 */
export async function readFreeze(tx: Transaction, packId: string): Promise<FreezeFacts> {
  const incidents = await tx.incident.findMany({
    where: { packId },
    select: { reference: true, closing: { select: { incidentId: true } } },
    orderBy: { openedAt: "asc" },
  });
  return freezeFacts(incidents.map(({ reference, closing }) => ({ reference, isOpen: closing === null })));
}
