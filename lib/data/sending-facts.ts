import "server-only";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Transaction } from "./database";
import { rulesInForce } from "./transport-rules";

/** What the table of moves asks of transport, read in the transaction of the move. */
export interface SendingFacts {
  readonly transportClass: string | null;
  readonly rulesStand: boolean;
  readonly labelPrinted: boolean;
  readonly sendingEndsAt: string | null;
}

export async function readSendingFacts(tx: Transaction, returnId: string, now: Date): Promise<SendingFacts> {
  const last = await tx.classDeclaration.findFirst({
    where: { returnId, leg: "to-maker" },
    orderBy: { sequence: "desc" },
    select: {
      transportClass: true,
      ruleFingerprint: true,
      return: { select: { dealer: { select: { timeZone: true } } } },
      leaves: { orderBy: { givenAt: "desc" }, take: 1, select: { expiresAt: true } },
      prints: { where: { kind: "label" }, take: 1, select: { id: true } },
    },
  });
  const today = last === null ? null : civilDateAt(now, last.return.dealer.timeZone);
  const fingerprint = today === null ? null : (await rulesInForce(tx, today)).fingerprint;
  return {
    rulesStand: last !== null && last.ruleFingerprint === fingerprint,
    transportClass: last?.transportClass ?? null,
    labelPrinted: (last?.prints.length ?? 0) > 0,
    sendingEndsAt: last?.leaves[0]?.expiresAt.toISOString() ?? null,
  };
}
