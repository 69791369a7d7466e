import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readDecidedRemedy } from "@/lib/returns/decision.schema";
import type { MoveName } from "@/lib/returns/move-names";
import { readReturnReference } from "@/lib/returns/return-reference";
import { readReturnStatus } from "@/lib/returns/return-status";
import type { Claim } from "@/lib/settlement/claim.schema";
import { momentOfWork, type WorkMoments } from "@/lib/settlement/day-of-work";
import { labourAmount } from "@/lib/settlement/money";
import { isOutsideSettlement, notOwedSentences, type ReturnClaimedFor, whyNotOwed } from "@/lib/settlement/owed-for";
import { rateOn } from "@/lib/settlement/rates";
import { readCoverOutcome } from "@/lib/warranty/cover";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Prisma } from "@/prisma/generated/client";
import { fromDateColumn, fromOptionalDateColumn } from "../calendar-columns";
import { lineHistoryEntry, linkTo, moneyFactsSelect } from "../chains/chained-rows";
import { asActor, type Transaction } from "../database";
import { readJoinedReturns } from "../returns/joined-returns";
import { breaksUnique } from "../unique-violation";
import { readRateEnds, readRates } from "./settlement-rates";

export type ClaimAnswer =
  | { readonly ok: true; readonly lineId: string; readonly repeated: boolean }
  | { readonly ok: false; readonly field: keyof Claim; readonly sentence: string };

const refused = (field: keyof Claim, sentence: string): ClaimAnswer => ({ ok: false, field, sentence });

/**
 * Claims money for work on a return, once: the same key is the same line, and one piece of work on one return is one
 * line whatever the key. The amount is the maker's rate of the country on the day the work was done; without a rate it is
 * refused at the field, and nothing is made up.
 */
export async function claimMoney(actor: Actor, claim: Claim, now = new Date()): Promise<ClaimAnswer> {
  const reading = readReturnReference(claim.reference);
  if (!may(actor, "claim-money")) return refused("reference", "Claims are made by the dealer or the service desk.");
  if (reading.kind !== "reference") return refused("reference", "There is no such return for you.");
  try {
    return await asActor(actor, async (tx) => {
      const found = await tx.return.findUnique({
        where: { reference: reading.reference },
        select: {
          id: true,
          dealerId: true,
          ...claimedForSelect,
          dealer: { select: { country: true, timeZone: true } },
        },
      });
      if (found === null) return refused("reference", "There is no such return for you.");
      const { id: returnId, dealerId, dealer } = found;
      const repeated = await findLine(tx, dealerId, claim.clientKey);
      if (repeated !== null) return { ok: true, lineId: repeated, repeated: true };
      const isPaidWithJoined = await isPaidWithJoinedReturn(tx, returnId, {
        ...claim,
        state: "claimed",
        claimedAt: now,
      });
      const notOwed = whyNotOwed({ ...readClaimedFor(found), isPaidWithJoined }, claim);
      if (notOwed !== null) return refused("reference", notOwedSentences[notOwed]);
      const workedOn = civilDateAt(momentOfWork(claim, momentsOf(found, now)), dealer.timeZone);
      const { country } = dealer;
      const [rates, ends] = [await readRates(tx, country), await readRateEnds(tx, country)];
      const rate = rateOn(rates, ends, { ...claim, country }, workedOn);
      if (rate.kind === "no-rate") return refused("kind", rate.sentence);
      if (rate.kind === "not-this-currency") return refused("currency", rate.sentence);
      const isLabour = claim.kind === "labour";
      const amountMinor = isLabour ? labourAmount(claim.minutes, rate.rate.amountMinor) : rate.rate.amountMinor;
      if (amountMinor < 1) return refused("minutes", "So few minutes come to nothing at this rate.");
      const line = await tx.settlementLine.create({
        data: {
          returnId,
          dealerId,
          kind: claim.kind,
          operation: isLabour ? claim.operation : "",
          minutes: isLabour ? claim.minutes : null,
          rateId: rate.rate.id,
          currency: rate.rate.currency,
          amountMinor,
          state: "claimed",
          clientKey: claim.clientKey,
          claimedByUserId: actor.userId,
          claimedByName: actor.name,
          claimedAt: now,
        },
        select: { id: true },
      });
      await appendLineMove(tx, actor, { lineId: line.id, version: 1, from: null, to: "claimed", reason: "", at: now });
      return { ok: true, lineId: line.id, repeated: false };
    });
  } catch (error) {
    if (breaksUnique(error, "SettlementLine_once_per_return"))
      return refused("operation", "This work on this return is claimed already.");
    if (!breaksUnique(error, "SettlementLine_dealerId_clientKey_key")) throw error;
    // Two sends of one claim ran side by side and this one came second: answer as a repeat.
    return claimMoney(actor, claim, now);
  }
}

/** What of a return says whether anything may be owed for it. */
export const claimedForSelect = {
  status: true,
  decision: { select: { remedy: true } },
  moves: {
    where: { OR: [{ sequence: 1 }, { move: { in: ["hand-to-carrier", "receive", "help"] } }] },
    orderBy: { sequence: "asc" },
    select: { move: true, at: true },
  },
  reservations: {
    where: { ending: "handed-over" },
    orderBy: { endedAt: "desc" },
    select: { endedAt: true },
    take: 1,
  },
} as const satisfies Prisma.ReturnSelect;

type ClaimedForRow = Prisma.ReturnGetPayload<{ select: typeof claimedForSelect }>;

export function readClaimedFor(row: ClaimedForRow): Omit<ReturnClaimedFor, "isPaidWithJoined"> {
  const wasMade = (name: MoveName) => row.moves.some(({ move }) => move === name);
  return {
    status: readReturnStatus(row.status),
    decidedRemedy: readDecidedRemedy(row.decision?.remedy ?? null),
    done: {
      packWasSent: wasMade("hand-to-carrier"),
      packWasReceived: wasMade("receive"),
      packWasExchanged: row.reservations.length > 0,
      helpWasGiven: wasMade("help"),
    },
  };
}

/** When the work on a return was done; of what was done more than once the last time. */
function momentsOf(row: ClaimedForRow, now: Date): WorkMoments {
  const lastOf = (name: MoveName) => row.moves.findLast(({ move }) => move === name)?.at ?? null;
  return {
    takenInAt: row.moves[0]?.at ?? now,
    sentAt: lastOf("hand-to-carrier"),
    receivedAt: lastOf("receive"),
    exchangedAt: row.reservations[0]?.endedAt ?? null,
    helpedAt: lastOf("help"),
  };
}

/** What of a return says whether it is paid for by the rules between maker and dealer. */
export const settlementWindowSelect = {
  coverOutcome: true,
  coverSettlementEndsOn: true,
  toldOn: true,
} as const satisfies Prisma.ReturnSelect;

export function readIsOutsideSettlement(
  row: Prisma.ReturnGetPayload<{ select: typeof settlementWindowSelect }>,
): boolean {
  return isOutsideSettlement({
    outcome: readCoverOutcome(row.coverOutcome),
    settlementEndsOn: fromOptionalDateColumn(row.coverSettlementEndsOn),
    toldOn: fromDateColumn(row.toldOn),
  });
}

/** How far a line has come; of two for the same work the one that has come further is paid, of equal ones the first claimed. */
const stagesOfPayment: readonly string[] = ["approved", "in-statement", "paid"];

/** Whether the same work is approved or paid under a return joined with this one, and comes before the line asked about. */
export async function isPaidWithJoinedReturn(
  tx: Transaction,
  returnId: string,
  own: { readonly kind: string; readonly operation: string; readonly state: string; readonly claimedAt: Date },
): Promise<boolean> {
  const others = (await readJoinedReturns(tx, returnId)).filter((id) => id !== returnId);
  if (others.length === 0) return false;
  const work = { kind: own.kind, operation: own.kind === "labour" ? own.operation : "", reversedAt: null };
  const rivals = await tx.settlementLine.findMany({
    where: { returnId: { in: others }, ...work, state: { in: [...stagesOfPayment] } },
    select: { state: true, claimedAt: true },
  });
  const ownStage = stagesOfPayment.indexOf(own.state);
  return rivals.some(({ state, claimedAt }) => {
    const stage = stagesOfPayment.indexOf(state);
    return stage > ownStage || (stage === ownStage && claimedAt < own.claimedAt);
  });
}

async function findLine(tx: Transaction, dealerId: string, clientKey: string): Promise<string | null> {
  const line = await tx.settlementLine.findUnique({
    where: { dealerId_clientKey: { dealerId, clientKey } },
    select: { id: true },
  });
  return line?.id ?? null;
}

export async function appendLineMove(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name">,
  move: { lineId: string; version: number; from: string | null; to: string; reason: string; at: Date },
): Promise<void> {
  const before = await tx.settlementMove.findFirst({
    where: { lineId: move.lineId },
    orderBy: { version: "desc" },
    select: { hash: true },
  });
  const line = await tx.settlementLine.findUniqueOrThrow({ where: { id: move.lineId }, select: moneyFactsSelect });
  const row = { ...move, actorUserId: actor.userId, actorName: actor.name };
  const link = linkTo(before?.hash ?? null, lineHistoryEntry(row, line), "line-history-2");
  await tx.settlementMove.create({ data: { ...row, ...link } });
}
