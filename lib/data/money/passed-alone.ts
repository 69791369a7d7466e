import "server-only";
import type { PassedAlone } from "@/lib/settlement/line-limit";
import { DAY_MS } from "@/lib/warranty/clock-spans";
import type { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";

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

/** What one person both checked and approved, for each line by its return and currency. */
export type ReadPassedAlone = (line: { readonly returnId: string; readonly currency: string }) => PassedAlone;

/** What this person passed alone, of these returns and of all in the last 24 hours: each line by its amount without sign. */
export async function readPassedAlone(
  tx: Transaction,
  userId: string,
  returnIds: readonly string[],
  now: Date,
): Promise<ReadPassedAlone> {
  const since = new Date(now.getTime() - DAY_MS);
  const lately = { to: "approved", actorUserId: userId, at: { gt: since } };
  const lines = await tx.settlementLine.findMany({
    where: {
      approvedByUserId: userId,
      state: { not: "refused" },
      OR: [{ returnId: { in: [...returnIds] } }, { moves: { some: lately } }],
    },
    select: {
      id: true,
      returnId: true,
      currency: true,
      amountMinor: true,
      ...checkerSelect,
    },
  });
  const alone = lines.filter((line) => readChecker(line) === userId);
  const approvals = await tx.settlementMove.findMany({
    where: { ...lately, lineId: { in: alone.map(({ id }) => id) } },
    select: { lineId: true },
  });
  const ofDay = new Set(approvals.map(({ lineId }) => lineId));
  return ({ returnId, currency }) => {
    const same = alone.filter((line) => line.currency === currency);
    return {
      ofReturnMinor: sumOf(same.filter((line) => line.returnId === returnId)),
      ofDayMinor: sumOf(same.filter(({ id }) => ofDay.has(id))),
    };
  };
}

function sumOf(lines: readonly { readonly amountMinor: number }[]): number {
  return lines.reduce((sum, { amountMinor }) => sum + Math.abs(amountMinor), 0);
}

/** Two lines of one return, or by one person, are not approved side by side, each without the other in its sum. */
export async function lockMoneyOf(tx: Transaction, returnId: string, userId: string): Promise<void> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtextextended(${`money ${returnId}`}, 0))`;
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtextextended(${`money by ${userId}`}, 0))`;
}
