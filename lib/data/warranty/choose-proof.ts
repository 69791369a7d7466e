import "server-only";
import type { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { caseMoves } from "@/lib/returns/case-moves";
import type { CalendarDate } from "@/lib/warranty/calendar";
import type { proofChoiceSchema } from "@/lib/warranty/proof-of-sale.schema";
import { provenDays } from "@/lib/warranty/proven-days";
import { asActor, asSystem, type Transaction } from "../database";
import type { PackFacts } from "../packs/pack-facts";
import { type MoveAnswer, makeMoveIn, refusedMove } from "../returns/move-return";
import { answeredSelect, giveCoverAnew, packAnsweredFor } from "./given-anew";

/** A day of delivery that a proof shows, with where that proof is to be looked at. */
export interface ProofToChoose {
  readonly soldOn: CalendarDate;
  /** References of the returns it was read on; none where it is that of the recorded sale. */
  readonly readOn: readonly string[];
}

/**
 * The proofs between which the answer on cover waits for a choice; none for whoever may not choose, and where nothing waits. As the system,
 * because a proof of the chain may have been read on another dealer's return; whoever chooses sees them all.
 */
export async function readProofsToChoose(actor: Actor, reference: string): Promise<ProofToChoose[]> {
  if (!may(actor, "choose-proof")) return [];
  return asSystem(async (tx) => {
    const row = await tx.return.findUnique({ where: { reference }, select: { ...answeredSelect, status: true } });
    if (row === null || row.coverOutcome !== "cannot-tell-yet") return [];
    if (!caseMoves["choose-proof"].from.some((status) => status === row.status)) return [];
    const pack = await packAnsweredFor(tx, row);
    const days = provenDays(pack.start);
    return days.length < 2 ? [] : withPlaces(tx, pack, days);
  });
}

async function withPlaces(tx: Transaction, { proofs }: PackFacts, days: readonly CalendarDate[]) {
  const returns = await tx.return.findMany({
    where: { id: { in: proofs.map(({ returnId }) => returnId) } },
    select: { id: true, reference: true },
  });
  return days.map((soldOn) => ({
    soldOn,
    readOn: proofs
      .filter((proof) => proof.soldOn === soldOn)
      .flatMap(({ returnId }) => returns.find(({ id }) => id === returnId)?.reference ?? []),
  }));
}

export type ProofChoice = z.output<typeof proofChoiceSchema>;

/**
 * Gives the answer on cover anew by the proof that a named person chose of those at odds. The others stay where they are and count no
 * more, at any later return of the chain, until one of them is read again.
 */
export async function chooseProof(
  actor: Actor,
  reference: string,
  choice: ProofChoice,
  now = new Date(),
): Promise<MoveAnswer> {
  if (!may(actor, "choose-proof"))
    return refusal("not-allowed", "Between proofs that are at odds the service lead chooses.");
  const mine = await asActor(actor, (tx) => tx.return.findUnique({ where: { reference }, select: { id: true } }));
  if (mine === null) return refusal("not-found", "There is no such return for you.");
  try {
    return await asSystem((tx) => chooseIn(tx, actor, reference, choice, now));
  } catch (error) {
    const answer = refusedMove(error);
    if (answer === null) throw error;
    return answer;
  }
}

async function chooseIn(
  tx: Transaction,
  actor: Actor,
  reference: string,
  { chosenOn, shownDays, why, seenVersion }: ProofChoice,
  now: Date,
): Promise<MoveAnswer> {
  const row = await tx.return.findUniqueOrThrow({ where: { reference }, select: answeredSelect });
  const pack = await packAnsweredFor(tx, row);
  const days = provenDays(pack.start);
  if (days.length !== shownDays.length || !days.every((day) => shownDays.includes(day)))
    return refusal(
      "proof-missing",
      "The proofs are others than those you saw. Reload the page, look at them and choose again.",
    );
  if (row.coverOutcome !== "cannot-tell-yet")
    return refusal("not-from-here", "The answer waits for no choice any more.");
  if (!days.includes(chosenOn)) return refusal("proof-day-missing", "Choose one of the days that the proofs show.");
  const against = days.filter((day) => day !== chosenOn);
  const stated = { provenSoldOn: chosenOn, chosenAgainst: against };
  const request = { name: "choose-proof", reason: why, seenVersion, stated } as const;
  const moved = await makeMoveIn(tx, actor, reference, request, now, { hasProof: true });
  if (!moved.ok) return moved;
  const read = { soldOn: chosenOn, readAt: now, against };
  await giveCoverAnew(tx, pack, row, { actor, read, proofId: null, why });
  return moved;
}

function refusal(
  reason: "not-allowed" | "not-found" | "proof-missing" | "proof-day-missing" | "not-from-here",
  sentence: string,
): MoveAnswer {
  return { ok: false, reason, sentence };
}
