import "server-only";
import type { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { caseMoves } from "@/lib/returns/case-moves";
import { checkReturnDates } from "@/lib/returns/check-return-dates";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { type CoverOutcome, readCoverOutcome } from "@/lib/warranty/cover";
import type { proofOfSaleSchema } from "@/lib/warranty/proof-of-sale.schema";
import { fromDateColumn, fromOptionalDateColumn } from "../calendar-columns";
import { asActor, asSystem, type Transaction } from "../database";
import type { PackFacts } from "../packs/pack-facts";
import { type PhotoCard, photoCard, photoSelect } from "../packs/pack-photos";
import { type MoveAnswer, makeMoveIn, refusedMove } from "../returns/move-return";
import { breaksUnique } from "../unique-violation";
import { type ProofToChoose, readProofsToChoose } from "./choose-proof";
import { type AnsweredReturn, answeredSelect, giveCoverAnew, packAnsweredFor, todayAt } from "./given-anew";

/** An answer as it stood before a proof came. */
export interface EarlierCoverView {
  readonly number: number;
  readonly outcome: CoverOutcome;
  readonly startsOn: CalendarDate | null;
  readonly endsOn: CalendarDate | null;
  readonly policyVersion: string;
  readonly because: readonly string[];
  readonly provenSoldOn: CalendarDate;
  /** Null where no proof came, but somebody chose between those that were read. */
  readonly proofId: string | null;
  readonly chosenAgainst: readonly CalendarDate[];
  readonly why: string;
  readonly replacedAt: Date;
  readonly replacedByName: string;
}

export interface CoverProofs {
  /** Whether this person may confirm what the photograph of a proof shows, as the return stands. */
  readonly mayProve: boolean;
  /** Whether this person may send a photograph of a proof, as the return stands. */
  readonly maySend: boolean;
  /** The newest photograph of a proof that no answer rests on yet. */
  readonly photo: PhotoCard | null;
  readonly earlier: readonly EarlierCoverView[];
  /** Proofs at odds, for the one who may choose between them as the return stands; else none. */
  readonly toChoose: readonly ProofToChoose[];
}

/** The newest photograph of a proof, where no answer rests on it yet: what came before one that was read is not asked about again. */
async function newestProof(tx: Transaction, returnId: string) {
  const newest = await tx.packPhoto.findFirst({
    where: { returnId, view: "proof-of-sale" },
    orderBy: [{ takenAt: "desc" }, { id: "desc" }],
    select: { ...photoSelect, replacedCover: { select: { proofId: true } } },
  });
  if (newest === null || newest.replacedCover !== null) return null;
  return newest;
}

/** What has come of proofs of sale for a return; null where this person may not see it. */
export async function readCoverProofs(actor: Actor, reference: string): Promise<CoverProofs | null> {
  const toChoose = await readProofsToChoose(actor, reference);
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({ where: { reference }, select: { id: true, status: true } });
    if (row === null) return null;
    const photo = await newestProof(tx, row.id);
    const earlier = await tx.earlierCover.findMany({ where: { returnId: row.id }, orderBy: { number: "asc" } });
    const { act, from } = caseMoves["prove-sale"];
    const isOpen = from.some((status) => status === row.status);
    return {
      mayProve: act !== null && may(actor, act) && isOpen,
      maySend: may(actor, "answer-question") && isOpen,
      photo: photo === null ? null : photoCard(photo),
      toChoose,
      earlier: earlier.map(({ outcome, startsOn, endsOn, provenSoldOn, chosenAgainst, ...same }) => ({
        ...same,
        chosenAgainst: chosenAgainst.map(fromDateColumn),
        outcome: readCoverOutcome(outcome),
        startsOn: fromOptionalDateColumn(startsOn),
        endsOn: fromOptionalDateColumn(endsOn),
        provenSoldOn: fromDateColumn(provenSoldOn),
      })),
    };
  });
}

export type ProofOfSale = z.output<typeof proofOfSaleSchema>;

const refusal = (reason: "not-found" | "proof-missing" | "proof-day-missing", sentence: string): MoveAnswer => ({
  ok: false,
  reason,
  sentence,
});

/**
 * Gives the answer on cover anew from a proof of sale that came after it. The photograph has to be kept first, and somebody
 * of the house has read it and confirms by name what it shows: on the dealer's word alone nothing gets into cover. The answer before stays with what it was drawn from, and the history names the proof. In one transaction as the system, because the
 * chain's sale and its earlier returns may be another dealer's; whose return it is is asked of the person before.
 */
export async function proveSale(
  actor: Actor,
  reference: string,
  proof: ProofOfSale,
  now = new Date(),
): Promise<MoveAnswer> {
  const mine = await asActor(actor, (tx) => tx.return.findUnique({ where: { reference }, select: { id: true } }));
  if (mine === null) return refusal("not-found", "There is no such return for you.");
  try {
    return await asSystem((tx) => proveIn(tx, actor, reference, proof, now));
  } catch (error) {
    const answer = refusedMove(error);
    if (answer !== null) return answer;
    if (!breaksUnique(error, "EarlierCover_proofId_key")) throw error;
    return refusal("proof-missing", "This proof was used a moment ago. Reload the page.");
  }
}

async function proveIn(
  tx: Transaction,
  actor: Actor,
  reference: string,
  { provenSoldOn, why, seenVersion, proofId }: ProofOfSale,
  now: Date,
): Promise<MoveAnswer> {
  const row = await tx.return.findUniqueOrThrow({ where: { reference }, select: answeredSelect });
  const photo = await newestProof(tx, row.id);
  if (photo !== null && photo.id !== proofId)
    return refusal("proof-missing", "Another photograph came meanwhile. Read that one, then confirm what it shows.");
  const request = { name: "prove-sale", reason: why, seenVersion, stated: { provenSoldOn } } as const;
  const pack = await packAnsweredFor(tx, row);
  const wrongDay = whyNotThatDay(row, pack, provenSoldOn, now);
  if (wrongDay !== null) return refusal("proof-day-missing", wrongDay);
  const moved = await makeMoveIn(tx, actor, reference, request, now, { hasProof: photo !== null });
  if (!moved.ok || photo === null) return moved;
  const read = { soldOn: provenSoldOn, readAt: now, against: [] };
  await giveCoverAnew(tx, pack, row, { actor, read, proofId: photo.id, why });
  return moved;
}

function whyNotThatDay(row: AnsweredReturn, pack: PackFacts, soldOnStated: CalendarDate, now: Date): string | null {
  const dates = { noticedOn: fromDateColumn(row.noticedOn), toldOn: fromDateColumn(row.toldOn), soldOnStated };
  const problems = checkReturnDates({
    ...dates,
    builtOn: pack.builtOn,
    rootBuiltOn: pack.rootBuiltOn,
    today: todayAt(row, pack, now),
  });
  return problems.find(({ field }) => field === "soldOnStated")?.sentence ?? null;
}
