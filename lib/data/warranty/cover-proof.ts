import "server-only";
import type { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readSerial } from "@/lib/packs/serial";
import { caseMoves } from "@/lib/returns/case-moves";
import { checkReturnDates } from "@/lib/returns/check-return-dates";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { type CoverOutcome, readCoverOutcome } from "@/lib/warranty/cover";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { proofOfSaleSchema } from "@/lib/warranty/proof-of-sale.schema";
import { Prisma } from "@/prisma/generated/client";
import { fromDateColumn, fromOptionalDateColumn, toDateColumn } from "../calendar-columns";
import { asActor, asSystem, type Transaction } from "../database";
import { type PackFacts, readPackFacts } from "../packs/pack-facts";
import { type PhotoCard, photoCard, photoSelect } from "../packs/pack-photos";
import { type MoveAnswer, makeMoveIn, refusedMove } from "../returns/move-return";
import { breaksUnique } from "../unique-violation";
import { answerCover, type CoverAnswer, whatCoverSays } from "./cover";

/** An answer as it stood before a proof came. */
export interface EarlierCoverView {
  readonly number: number;
  readonly outcome: CoverOutcome;
  readonly startsOn: CalendarDate | null;
  readonly endsOn: CalendarDate | null;
  readonly policyVersion: string;
  readonly because: readonly string[];
  readonly provenSoldOn: CalendarDate;
  readonly proofId: string;
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
export function readCoverProofs(actor: Actor, reference: string): Promise<CoverProofs | null> {
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
      earlier: earlier.map(({ outcome, startsOn, endsOn, provenSoldOn, ...same }) => ({
        ...same,
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
  const row = await tx.return.findUniqueOrThrow({ where: { reference }, include: { dealer: true, pack: true } });
  const photo = await newestProof(tx, row.id);
  if (photo !== null && photo.id !== proofId)
    return refusal("proof-missing", "Another photograph came meanwhile. Read that one, then confirm what it shows.");
  const request = { name: "prove-sale", reason: why, seenVersion, stated: { provenSoldOn } } as const;
  const pack = await packOf(tx, row.pack.serial);
  const wrongDay = whyNotThatDay(row, pack, provenSoldOn, now);
  if (wrongDay !== null) return refusal("proof-day-missing", wrongDay);
  const moved = await makeMoveIn(tx, actor, reference, request, now, { hasProof: photo !== null });
  if (!moved.ok || photo === null) return moved;
  const number = (await tx.earlierCover.count({ where: { returnId: row.id } })) + 1;
  await tx.earlierCover.create({
    data: {
      returnId: row.id,
      number,
      outcome: row.coverOutcome,
      startsOn: row.coverStartsOn,
      endsOn: row.coverEndsOn,
      evidence: row.coverEvidence,
      policyVersion: row.coverPolicyVersion,
      because: row.coverBecause,
      facts: row.coverFacts ?? Prisma.DbNull,
      rulesVersion: row.coverRulesVersion,
      provenSoldOn: toDateColumn(provenSoldOn),
      proofId: photo.id,
      why,
      replacedAt: now,
      replacedByUserId: actor.userId,
      replacedByName: actor.name,
    },
  });
  const answer = await answerAnew(tx, pack, row, provenSoldOn, now);
  await tx.return.update({ where: { id: row.id }, data: whatCoverSays(answer), select: { id: true } });
  return moved;
}

interface AnsweredReturn {
  readonly id: string;
  readonly noticedOn: Date;
  readonly toldOn: Date;
  readonly soldOnStated: Date | null;
  readonly symptom: string;
  readonly dealer: { readonly timeZone: string };
}

async function packOf(tx: Transaction, stored: string): Promise<PackFacts> {
  const reading = readSerial(stored);
  const pack = reading.kind === "serial" ? await readPackFacts(tx, reading.serial) : null;
  if (pack === null) throw new RangeError(`${stored}: a return of a pack nobody knows`);
  return pack;
}

const todayOf = (row: AnsweredReturn, pack: PackFacts, now: Date) =>
  civilDateAt(now, pack.saleZone ?? row.dealer.timeZone);

function whyNotThatDay(row: AnsweredReturn, pack: PackFacts, soldOnStated: CalendarDate, now: Date): string | null {
  const dates = { noticedOn: fromDateColumn(row.noticedOn), toldOn: fromDateColumn(row.toldOn), soldOnStated };
  const problems = checkReturnDates({
    ...dates,
    builtOn: pack.builtOn,
    rootBuiltOn: pack.rootBuiltOn,
    today: todayOf(row, pack, now),
  });
  return problems.find(({ field }) => field === "soldOnStated")?.sentence ?? null;
}

/** What was stated at the counter stays beside the proof: where they are at odds the rules of the guarantee weigh them. */
function answerAnew(
  tx: Transaction,
  pack: PackFacts,
  row: AnsweredReturn,
  provenSoldOn: CalendarDate,
  now: Date,
): Promise<CoverAnswer> {
  const soldOn = fromOptionalDateColumn(row.soldOnStated);
  const ofOthers = pack.proofs.filter(({ returnId }) => returnId !== row.id).map((proof) => proof.soldOn);
  const start = {
    ...pack.start,
    // A proof read anew on the same return takes the place of the one before.
    provenOn: ofOthers.length === 0 ? undefined : ofOthers,
    ...(soldOn === null ? {} : { statedOn: soldOn }),
  };
  return answerCover(
    tx,
    { ...pack, start },
    {
      toldOn: fromDateColumn(row.toldOn),
      today: todayOf(row, pack, now),
      stated: { soldOn: provenSoldOn, proven: true },
      symptom: row.symptom,
    },
  );
}
