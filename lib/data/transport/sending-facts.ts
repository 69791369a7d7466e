import "server-only";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Transaction } from "../database";
import { readJourneyEnd } from "../returns/journey-end";
import { rulesInForce } from "./transport-rules";

/** What the table of moves asks of transport, read in the transaction of the move. */
export interface SendingFacts {
  /** Null while no class counts for this journey. */
  readonly declarationId: string | null;
  readonly transportClass: string | null;
  readonly rulesStand: boolean;
  readonly labelPrinted: boolean;
  readonly sendingEndsAt: string | null;
}

export async function readSendingFacts(tx: Transaction, returnId: string, now: Date): Promise<SendingFacts> {
  const newest = await tx.classDeclaration.findFirst({
    where: { returnId, leg: "to-maker" },
    orderBy: { sequence: "desc" },
    select: {
      id: true,
      declaredAt: true,
      transportClass: true,
      ruleFingerprint: true,
      return: { select: { packId: true, dealer: { select: { timeZone: true } } } },
      leaves: { orderBy: { givenAt: "desc" }, take: 1, select: { expiresAt: true } },
      prints: { where: { kind: "label" }, take: 1, select: { id: true } },
    },
  });
  const ended = newest === null ? null : await readJourneyEnd(tx, newest.return.packId);
  // What a journey that is over was declared and labelled for says nothing of the next.
  const last = newest !== null && ended !== null && newest.declaredAt < ended ? null : newest;
  const today = last === null ? null : civilDateAt(now, last.return.dealer.timeZone);
  const fingerprint = today === null ? null : (await rulesInForce(tx, today)).fingerprint;
  return {
    declarationId: last?.id ?? null,
    rulesStand: last !== null && last.ruleFingerprint === fingerprint,
    transportClass: last?.transportClass ?? null,
    labelPrinted: (last?.prints.length ?? 0) > 0,
    sendingEndsAt: last?.leaves[0]?.expiresAt.toISOString() ?? null,
  };
}
