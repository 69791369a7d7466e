import "server-only";
import { openStatuses, type ReturnStatus, readReturnStatus } from "@/lib/returns/return-status";
import type { Transaction } from "../database";
import { shownSerial } from "../packs/pack-words";

/** What of a set that is held back is in somebody's hands now, or about to be. */
export interface AtStake {
  readonly returns: readonly {
    readonly reference: string;
    readonly serialShown: string;
    readonly status: ReturnStatus;
  }[];
  /** Kept as a replacement for a return. */
  readonly kept: readonly { readonly reference: string; readonly serialShown: string }[];
  /** Ridden by a customer on loan. */
  readonly lent: readonly { readonly reference: string; readonly serialShown: string }[];
}

/** The open returns, reservations and loans of the packs of a set, oldest first. */
export async function readAtStake(tx: Transaction, setId: string): Promise<AtStake> {
  const pack = { affectedSets: { some: { setId } } };
  const shown = { pack: { select: { serial: true } }, return: { select: { reference: true } } };
  const returns = await tx.return.findMany({
    where: { pack, settledBefore: false, status: { in: [...openStatuses] } },
    select: { reference: true, status: true, pack: { select: { serial: true } } },
    orderBy: { lodgedAt: "asc" },
  });
  const kept = await tx.unitReservation.findMany({
    where: { pack, endedAt: null },
    select: shown,
    orderBy: { reservedAt: "asc" },
  });
  const lent = await tx.packLoan.findMany({
    where: { pack, returnedAt: null },
    select: shown,
    orderBy: { lentAt: "asc" },
  });
  return {
    returns: returns.map((row) => ({
      reference: row.reference,
      serialShown: shownSerial(row.pack.serial),
      status: readReturnStatus(row.status),
    })),
    kept: kept.map(ofPack),
    lent: lent.map(ofPack),
  };
}

function ofPack(row: { readonly pack: { readonly serial: string }; readonly return: { readonly reference: string } }) {
  return { reference: row.return.reference, serialShown: shownSerial(row.pack.serial) };
}
