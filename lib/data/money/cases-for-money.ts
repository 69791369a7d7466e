import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { asActor } from "../database";
import { shownSerial } from "../packs/pack-words";

export interface CaseForMoney {
  readonly reference: string;
  readonly dealerName: string;
  readonly serialShown: string;
  readonly coverOutcome: string;
  readonly remedy: string;
  readonly decidedAt: Date;
}

/** Longer lists belong to the statement of one dealer. */
const LIST_LIMIT = 200;

/** Decided returns, newest first: what may come to cost or to pay something. Null where the person may not ask. */
export async function listCasesForMoney(actor: Actor): Promise<CaseForMoney[] | null> {
  if (!may(actor, "read-cases-for-money")) return null;
  const rows = await asActor(actor, (tx) =>
    tx.decision.findMany({
      select: {
        remedy: true,
        decidedAt: true,
        return: {
          select: {
            reference: true,
            coverOutcome: true,
            dealer: { select: { name: true } },
            pack: { select: { serial: true } },
          },
        },
      },
      orderBy: { decidedAt: "desc" },
      take: LIST_LIMIT,
    }),
  );
  return rows.map(({ remedy, decidedAt, return: { reference, coverOutcome, dealer, pack } }) => ({
    reference,
    dealerName: dealer.name,
    serialShown: shownSerial(pack.serial),
    coverOutcome,
    remedy,
    decidedAt,
  }));
}
