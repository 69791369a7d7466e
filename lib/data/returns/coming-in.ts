import "server-only";
import { atTheWorks, readCustodyPlace } from "@/lib/returns/custody-track";
import type { Transaction } from "../database";

export interface ComingIn {
  readonly at: Date;
  /** The return under which it was written down. */
  readonly returnId: string | null;
}

/** When a pack last came into the house from outside, as far as this transaction sees its moves; null where none says so. */
export async function readLastComingIn(tx: Transaction, packId: string): Promise<ComingIn | null> {
  const moves = await tx.trackMove.findMany({
    where: { to: "quarantine", track: { packId, track: "custody" } },
    orderBy: { sequence: "desc" },
    select: { from: true, at: true, returnId: true },
  });
  return moves.find(({ from }) => !atTheWorks.includes(readCustodyPlace(from))) ?? null;
}

/** When the pack of a return itself was entered at goods-in under it, the latest first; not what was settled as another pack. */
export async function readOwnArrivals(tx: Transaction, returnId: string, beside?: string) {
  const rows = await tx.arrival.findMany({
    where: { returnId, ...(beside === undefined ? {} : { id: { not: beside } }) },
    orderBy: { arrivedAt: "desc" },
    select: {
      arrivedAt: true,
      stays: { select: { releasedAt: true } },
      settlement: { select: { outcome: true } },
    },
  });
  return rows.filter(({ settlement }) => settlement?.outcome !== "other-pack");
}
