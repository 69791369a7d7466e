import "server-only";
import { createHash } from "node:crypto";
import type { Actor } from "@/lib/access/actor";
import { canonicalHistoryText } from "@/lib/returns/history-entry";
import type { Transaction } from "./database";

export interface MoveToRecord {
  readonly returnId: string;
  readonly from: string | null;
  readonly to: string;
  readonly reason: string;
  /** Version of the return after the move. */
  readonly dataVersion: number;
  readonly ruleVersion: string | null;
  readonly at: Date;
}

/** Appends one row to a return's history, chained by hash to the row before it. */
export async function appendMove(tx: Transaction, actor: Pick<Actor, "userId" | "name" | "role">, move: MoveToRecord) {
  const last = await tx.returnMove.findFirst({
    where: { returnId: move.returnId },
    orderBy: { sequence: "desc" },
    select: { sequence: true, hash: true },
  });
  const sequence = (last?.sequence ?? 0) + 1;
  const previousHash = last?.hash ?? "0".repeat(64);
  const row = { ...move, sequence, actorUserId: actor.userId, actorName: actor.name, actorRole: actor.role };
  await tx.returnMove.create({ data: { ...row, previousHash, hash: historyHash(previousHash, row) } });
}

type HistoryRow = MoveToRecord & { sequence: number; actorUserId: string; actorName: string; actorRole: string };

export function historyHash(previousHash: string, row: HistoryRow): string {
  const text = canonicalHistoryText(previousHash, { ...row, at: row.at.toISOString() });
  return createHash("sha256").update(text, "utf8").digest("hex");
}
