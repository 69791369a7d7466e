import "server-only";
import { readCustodyPlace } from "@/lib/returns/custody-track";
import { endsJourney } from "@/lib/returns/journey";
import type { Transaction } from "../database";

/** When the last journey of a pack ended, as far as this transaction sees its moves; null where it made none. */
export async function readJourneyEnd(tx: Transaction, packId: string): Promise<Date | null> {
  const moves = await tx.trackMove.findMany({
    where: { track: { packId, track: "custody" } },
    select: { from: true, to: true, at: true },
    orderBy: { sequence: "desc" },
  });
  const last = moves.find(({ from, to }) => endsJourney(readCustodyPlace(from), readCustodyPlace(to)));
  return last?.at ?? null;
}
