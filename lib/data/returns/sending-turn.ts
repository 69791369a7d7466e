import "server-only";
import { waitsForTheHouse } from "@/lib/returns/class-refusal";
import { dueAt } from "@/lib/returns/return-settings.schema";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { asSystem, type Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import { readIncomingIn } from "../transport/incoming-sending";
import { type LoadedStanding, loadStanding } from "./return-standing";

/**
 * A return that is allowed to be sent, as the house sees it, whoever asks; null where there is none at that stage. Give it a
 * transaction that sees what the house sees.
 */
export async function loadToBeSent(tx: Transaction, reference: string, now: Date): Promise<LoadedStanding | null> {
  const isToBeSent = await tx.return.count({ where: { reference, status: "return-approved", settledBefore: false } });
  return isToBeSent === 0 ? null : loadStanding(tx, reference, now, await readIncomingIn(tx, reference, now));
}

/**
 * Gives the turn of a return that is allowed to be sent to whoever can act: to the dealer while a class counts, with leave
 * to send, and nothing holds the pack, else to the house, whose clock begins. No move: nothing became of the return, so its history says nothing of it.
 * True where the turn changed hands; who has it is told.
 */
export async function passSendingTurn(tx: Transaction, { row, standing }: LoadedStanding, now: Date): Promise<boolean> {
  const { reference, settings, status, known } = standing;
  const ends = waitsForTheHouse(standing) ? null : known.sendingEndsAt;
  const turn = ends === null ? "maker" : "dealer";
  if (status !== "return-approved" || row.turn === turn) return false;
  const { count } = await tx.return.updateMany({
    where: { id: row.id, version: row.version, turn: row.turn },
    data: { turn, dueAt: dueAt(turn === "maker" ? "in-review" : "return-approved", now, settings) },
  });
  // Somebody moved the return, or passed the turn, meanwhile.
  if (count !== 1) return false;
  const about = { reference, returnId: row.id, occasion: `turn ${now.toISOString()}` };
  const dealer = { dealerId: row.dealerId };
  if (ends !== null) {
    const until = civilDateAt(new Date(ends), row.dealer.timeZone);
    await queueNotice(tx, { ...about, kind: "approved", until, to: dealer });
    return true;
  }
  await queueNotice(tx, { ...about, kind: "wait-to-send", to: dealer });
  await queueNotice(tx, { ...about, kind: "class-needed", to: { role: "service-lead" } });
  return true;
}

/** The same for one return in a transaction of its own, as time goes by: rules change, and more becomes known, without a move. */
export function passSendingTurnAsSystem(reference: string, now: Date): Promise<boolean> {
  return asSystem(async (tx) => {
    const loaded = await loadToBeSent(tx, reference, now);
    return loaded !== null && passSendingTurn(tx, loaded, now);
  });
}
