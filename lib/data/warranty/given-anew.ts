import "server-only";
import type { Actor } from "@/lib/access/actor";
import { readSerial } from "@/lib/packs/serial";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { provenBy, type ReadProof } from "@/lib/warranty/proven-days";
import { Prisma } from "@/prisma/generated/client";
import { fromDateColumn, fromOptionalDateColumn, toDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";
import { type PackFacts, readPackFacts } from "../packs/pack-facts";
import { answerCover, whatCoverSays } from "./cover";

export const answeredSelect = {
  id: true,
  noticedOn: true,
  toldOn: true,
  soldOnStated: true,
  symptom: true,
  coverOutcome: true,
  coverStartsOn: true,
  coverEndsOn: true,
  coverEvidence: true,
  coverPolicyVersion: true,
  coverBecause: true,
  coverFacts: true,
  coverRulesVersion: true,
  dealer: { select: { timeZone: true } },
  pack: { select: { serial: true } },
} as const satisfies Prisma.ReturnSelect;
export type AnsweredReturn = Prisma.ReturnGetPayload<{ select: typeof answeredSelect }>;

export async function packAnsweredFor(tx: Transaction, row: AnsweredReturn): Promise<PackFacts> {
  const { serial } = row.pack;
  const reading = readSerial(serial);
  const pack = reading.kind === "serial" ? await readPackFacts(tx, reading.serial) : null;
  if (pack === null) throw new RangeError(`${serial}: a return of a pack nobody knows`);
  return pack;
}

export function todayAt(row: AnsweredReturn, pack: PackFacts, now: Date): CalendarDate {
  return civilDateAt(now, pack.saleZone ?? row.dealer.timeZone);
}

/** What an answer is given anew from, and who says so. */
interface GivenAnew {
  readonly actor: Actor;
  readonly read: ReadProof;
  /** The photograph of the proof; null where somebody chose between those that were read. */
  readonly proofId: string | null;
  readonly why: string;
}

/**
 * Keeps the answer that stood, with what replaced it, and gives it anew. What was stated at the counter stays beside the proof: the rules
 * of the guarantee weigh them.
 */
export async function giveCoverAnew(
  tx: Transaction,
  pack: PackFacts,
  row: AnsweredReturn,
  { actor, read, proofId, why }: GivenAnew,
): Promise<void> {
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
      provenSoldOn: toDateColumn(read.soldOn),
      proofId,
      chosenAgainst: read.against.map(toDateColumn),
      why,
      replacedAt: read.readAt,
      replacedByUserId: actor.userId,
      replacedByName: actor.name,
    },
  });
  const soldOn = fromOptionalDateColumn(row.soldOnStated);
  // What is read or chosen anew on the same return takes the place of the proof before.
  const ofOthers = pack.proofs.filter(({ returnId }) => returnId !== row.id);
  const { setAsideOn: _, ...recorded } = pack.start;
  const start = { ...recorded, ...provenBy([...ofOthers, read]), ...(soldOn === null ? {} : { statedOn: soldOn }) };
  const complaint = {
    toldOn: fromDateColumn(row.toldOn),
    today: todayAt(row, pack, read.readAt),
    stated: null,
    symptom: row.symptom,
  };
  const answer = await answerCover(tx, { ...pack, start }, complaint);
  await tx.return.update({ where: { id: row.id }, data: whatCoverSays(answer), select: { id: true } });
}
