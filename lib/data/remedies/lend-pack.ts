import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type LoanBack, tellingLooks } from "@/lib/packs/loan-back";
import { type LoanPackFacts, whyPackMayNotBeLent } from "@/lib/packs/loan-pack";
import { readReturnReference } from "@/lib/returns/return-reference";
import { isOpenStatus } from "@/lib/returns/return-status";
import { toldDangerSchema } from "@/lib/safety/told-danger.schema";
import { asActor, asSystem, type Transaction } from "../database";
import { findStockPack, stockPackFacts } from "../packs/stock-packs";
import { lockPack } from "../returns/track-rows";
import { tellDanger } from "../safety/tell-danger";
import { breaksUnique } from "../unique-violation";

export type LoanAnswer = { readonly ok: true } | { readonly ok: false; readonly sentence: string };

const notTheirs: LoanAnswer = { ok: false, sentence: "There is no such return for you." };

/** Lends a pack to the customer of an open return, once at a time; why it may not be lent is a sentence for the field. */
export async function lendPack(
  actor: Actor,
  typedReference: string,
  typedSerial: string,
  now = new Date(),
): Promise<LoanAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !mayLend(actor)) return notTheirs;
  // As the system: what is known of lots, other dealers' returns and stock stays the house's; one sentence comes out.
  const pack = await asSystem((tx) => readLoanPack(tx, typedSerial));
  try {
    return await asActor(actor, async (tx) => {
      const row = await tx.return.findUnique({
        where: { reference: reading.reference },
        select: { id: true, packId: true, status: true, dealerId: true },
      });
      if (row === null) return notTheirs;
      if (!isOpenStatus(row.status)) return { ok: false, sentence: "This return is not open: nothing is lent for it." };
      const facts =
        pack === null
          ? null
          : {
              ...pack.facts,
              isReturnedPack: pack.packId === row.packId,
              // Also where the bench records it: the customer stands at that dealer's counter.
              isElsewhere: pack.dispatchedToId !== row.dealerId,
            };
      const sentence = whyPackMayNotBeLent(facts);
      if (pack === null || sentence !== null) return { ok: false, sentence: sentence ?? "" };
      await lockPack(tx, pack.packId);
      await tx.packLoan.createMany({
        data: [
          {
            packId: pack.packId,
            returnId: row.id,
            lentAt: now,
            lentByUserId: actor.userId,
            lentByName: actor.name,
          },
        ],
      });
      return { ok: true };
    });
  } catch (error) {
    if (breaksUnique(error, "PackLoan_one_open_per_pack", "PackLoan_one_open_per_return"))
      return { ok: false, sentence: "This pack is lent out already, or one is lent for this return." };
    throw error;
  }
}

/**
 * Records that the lent pack came back, and how it looked. What fell, got wet or is not as it was lent is told as a danger first:
 * the pack is set apart, those in charge are called, and nobody is lent it before the safety officer has judged it.
 */
export async function takeLoanBack(
  actor: Actor,
  typedReference: string,
  { look, condition }: LoanBack,
  now = new Date(),
): Promise<LoanAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !mayLend(actor)) return notTheirs;
  if (condition.trim() === "") return { ok: false, sentence: "Write how it came back; “as lent” is a fair answer." };
  const open = { return: { reference: reading.reference }, returnedAt: null };
  const loan = await asActor(actor, (tx) =>
    tx.packLoan.findFirst({ where: open, select: { id: true, pack: { select: { serial: true } } } }),
  );
  if (loan === null) return nothingLent;
  if (look !== "as-lent") {
    const told = toldDangerSchema.parse({ about: loan.pack.serial, note: `${tellingLooks[look]} ${condition}` });
    const answer = await tellDanger(actor, told, now);
    if (!answer.ok) return { ok: false, sentence: answer.sentence };
  }
  return asActor(actor, async (tx) => {
    const { count } = await tx.packLoan.updateMany({
      where: { id: loan.id, returnedAt: null },
      data: { returnedAt: now, returnedByUserId: actor.userId, returnedByName: actor.name, look, condition },
    });
    return count === 1 ? { ok: true } : nothingLent;
  });
}

const nothingLent: LoanAnswer = { ok: false, sentence: "Nothing is lent for this return." };

function mayLend(actor: Actor): boolean {
  return may(actor, "confirm-at-counter") || may(actor, "work-on-pack");
}

interface LoanPack {
  readonly packId: string;
  readonly dispatchedToId: string | null;
  /** Which pack came back, and at whose counter, is known only in the transaction of whoever lends. */
  readonly facts: Omit<LoanPackFacts, "isReturnedPack" | "isElsewhere">;
}

async function readLoanPack(tx: Transaction, typed: string): Promise<LoanPack | null> {
  const pack = await findStockPack(tx, typed);
  if (pack === null) return null;
  const { dispatchedToId } = await tx.pack.findUniqueOrThrow({
    where: { id: pack.id },
    select: { dispatchedToId: true },
  });
  return {
    packId: pack.id,
    dispatchedToId,
    facts: {
      ...(await stockPackFacts(tx, pack)),
      isKept: pack.reservations.length > 0,
      isAtTheWorks: dispatchedToId === null,
    },
  };
}
