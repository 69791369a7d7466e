import "server-only";
import type { Transaction } from "./database";

/** What the table of moves asks of transport, read in the transaction of the move. */
export interface SendingFacts {
  readonly transportClass: string | null;
  readonly labelPrinted: boolean;
  readonly sendingEndsAt: string | null;
}

export async function readSendingFacts(tx: Transaction, returnId: string): Promise<SendingFacts> {
  const last = await tx.classDeclaration.findFirst({
    where: { returnId },
    orderBy: { sequence: "desc" },
    select: {
      transportClass: true,
      leaves: { orderBy: { givenAt: "desc" }, take: 1, select: { expiresAt: true } },
      prints: { where: { kind: "label" }, take: 1, select: { id: true } },
    },
  });
  return {
    transportClass: last?.transportClass ?? null,
    labelPrinted: (last?.prints.length ?? 0) > 0,
    sendingEndsAt: last?.leaves[0]?.expiresAt.toISOString() ?? null,
  };
}
