import "server-only";
import type { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "./database";

/** Who checked a line last: of several checks, after a correction, the last counts. */
export const checkerSelect = {
  moves: {
    where: { to: "checked" },
    orderBy: { version: "desc" },
    take: 1,
    select: { actorUserId: true, actorName: true },
  },
} as const satisfies Prisma.SettlementLineSelect;

export function readChecker({ moves }: { readonly moves: readonly { readonly actorUserId: string }[] }): string | null {
  return moves[0]?.actorUserId ?? null;
}

/** What one person both checked and approved, by return and currency, in the smallest unit; a reversal counts by what it takes back. */
export type PassedAlone = (line: { readonly returnId: string; readonly currency: string }) => number;

/** What this person passed alone of these returns: each line by its amount without sign, so that nothing is passed in turns. */
export async function readPassedAlone(
  tx: Transaction,
  userId: string,
  returnIds: readonly string[],
): Promise<PassedAlone> {
  const lines = await tx.settlementLine.findMany({
    where: { returnId: { in: [...returnIds] }, approvedByUserId: userId, state: { not: "refused" } },
    select: { returnId: true, currency: true, amountMinor: true, ...checkerSelect },
  });
  const sums = new Map<string, number>();
  for (const line of lines) {
    if (readChecker(line) !== userId) continue;
    const key = keyOf(line);
    sums.set(key, (sums.get(key) ?? 0) + Math.abs(line.amountMinor));
  }
  return (line) => sums.get(keyOf(line)) ?? 0;
}

const keyOf = ({ returnId, currency }: Parameters<PassedAlone>[0]) => `${returnId} ${currency}`;

/** Two lines of one return are not approved side by side, each without the other in its sum. */
export async function lockMoneyOf(tx: Transaction, returnId: string): Promise<void> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtextextended(${`money ${returnId}`}, 0))`;
}
