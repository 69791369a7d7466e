import "server-only";
import type { Transaction } from "./database";

/**
 * Whether the pack lay its time and was followed: what the table of moves asks before it goes to the bench. The latest
 * arrival counts, so that a pack that came in a second time has to lie again, also before anybody has laid it anywhere.
 * Null where no arrival was recorded: then nobody keeps the fact.
 */
export async function readQuarantineMet(tx: Transaction, returnId: string): Promise<boolean | null> {
  const arrival = await tx.arrival.findFirst({
    where: { returnId },
    orderBy: { arrivedAt: "desc" },
    select: { stays: { select: { releasedAt: true } } },
  });
  if (arrival === null) return null;
  return arrival.stays.length > 0 && arrival.stays.every(({ releasedAt }) => releasedAt !== null);
}
