import "server-only";
import type { Transaction } from "../database";
import { readLastComingIn, readOwnArrivals } from "../returns/coming-in";

/**
 * Whether the pack lay its time and was followed: what the table of moves asks before it goes to the bench. The latest
 * arrival under this return counts, so that a pack that came in a second time has to lie again, also before anybody has laid
 * it anywhere; one that lies in quarantine and was not scanned in here since it came, as when it was found under another
 * return, has met nothing. Null where no arrival was recorded: then nobody keeps the fact.
 */
export async function readQuarantineMet(tx: Transaction, returnId: string): Promise<boolean | null> {
  const [arrival] = await readOwnArrivals(tx, returnId);
  const { packId, pack } = await tx.return.findUniqueOrThrow({
    where: { id: returnId },
    select: { packId: true, pack: { select: { tracks: { where: { track: "custody" }, select: { state: true } } } } },
  });
  const cameIn = pack.tracks[0]?.state === "quarantine" ? await readLastComingIn(tx, packId) : null;
  if (cameIn !== null && arrival === undefined && cameIn.returnId !== returnId) return false;
  if (arrival === undefined) return null;
  if (cameIn !== null && arrival.arrivedAt < cameIn.at) return false;
  return arrival.stays.length > 0 && arrival.stays.every(({ releasedAt }) => releasedAt !== null);
}
