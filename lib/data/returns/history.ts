import "server-only";
import { createHash } from "node:crypto";
import type { Mover } from "@/lib/access/actor";
import { canonicalHistoryText, type HistoryEntry, readHistoryForm } from "@/lib/returns/history-entry";
import { localInstant } from "@/lib/returns/local-instant";
import type { MoveName } from "@/lib/returns/move-names";
import { FIRST_PREVIOUS_HASH, type HistoryCheck, verifyHistory } from "@/lib/returns/verify-history";
import type { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";

/** Who stands in a row of history. */
export type MoverName = Pick<Mover, "userId" | "name" | "role">;

export interface MoveToRecord {
  readonly returnId: string;
  readonly move: MoveName;
  readonly from: string | null;
  readonly to: string;
  readonly reason: string;
  /** Version of the return after the move, and the number of the row: each move makes one of both. */
  readonly dataVersion: number;
  readonly ruleVersion: string | null;
  readonly at: Date;
  /** IANA zone of the dealer's place, for the local time beside the UTC one. */
  readonly zone: string;
  readonly facts: Prisma.InputJsonObject;
}

/**
 * Appends one row to a return's history, chained by hash to the row before it. The hash before comes from the return
 * itself, because a dealer may move a return without seeing every row of its history.
 */
export async function appendMove(tx: Transaction, actor: MoverName, move: MoveToRecord): Promise<void> {
  const { lastMoveHash } = await tx.return.findUniqueOrThrow({
    where: { id: move.returnId },
    select: { lastMoveHash: true },
  });
  const { zone, ...rest } = move;
  const row = {
    ...rest,
    sequence: move.dataVersion,
    actorUserId: actor.userId,
    actorName: actor.name,
    actorRole: actor.role,
    atLocal: localInstant(move.at, zone),
  };
  const previousHash = lastMoveHash ?? FIRST_PREVIOUS_HASH;
  const form = "return-history-2";
  const hash = sha256(canonicalHistoryText(previousHash, { ...row, at: row.at.toISOString() }, form));
  await tx.returnMove.create({ data: { ...row, form, previousHash, hash }, select: { id: true } });
  await tx.return.update({ where: { id: move.returnId }, data: { lastMoveHash: hash }, select: { id: true } });
}

export function sha256(text: string): string {
  return createHash("sha256").update(text, "utf8").digest("hex");
}

interface StoredMove extends Omit<HistoryEntry, "at"> {
  readonly at: Date;
  readonly form: string;
  readonly previousHash: string;
  readonly hash: string;
}

/** Whether the history of a return is whole, as stored rows say it, oldest first. */
export function checkHistory(rows: readonly StoredMove[], expectedLastHash: string | null): HistoryCheck {
  const entries = rows.map((row) => ({ ...row, at: row.at.toISOString(), form: readHistoryForm(row.form) }));
  return verifyHistory(entries, sha256, expectedLastHash);
}
