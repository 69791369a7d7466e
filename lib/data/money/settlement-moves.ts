import "server-only";
import { randomUUID } from "node:crypto";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { isAboveLineLimit } from "@/lib/settlement/line-limit";
import {
  type LineMoveName,
  type LineRefusal,
  type LineStanding,
  type LineState,
  lineMoves,
  lineRefusalSentences,
  lineStates,
  refusalOfLineMove,
} from "@/lib/settlement/line-moves";
import { type NotOwed, whyNotOwed } from "@/lib/settlement/owed-for";
import type { Prisma } from "@/prisma/generated/client";
import { BENCH_ZONE } from "../bench-tests/instruments";
import { asActor, type Transaction } from "../database";
import { readReturnSettings } from "../returns/return-settings";
import { breaksUnique } from "../unique-violation";
import { checkerSelect, lockMoneyOf, readChecker, readPassedAlone } from "./passed-alone";
import {
  appendLineMove,
  claimedForSelect,
  isPaidWithJoinedReturn,
  readClaimedFor,
  readIsOutsideSettlement,
  settlementWindowSelect,
} from "./settlement-claims";

export type LineAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: LineRefusal | "not-allowed" | "not-found"; readonly sentence: string };

const notAllowed: LineAnswer = { ok: false, reason: "not-allowed", sentence: "This is not yours to do." };
const notFound: LineAnswer = { ok: false, reason: "not-found", sentence: "There is no such line for you." };

function refuse(reason: LineRefusal): LineAnswer {
  return { ok: false, reason, sentence: lineRefusalSentences[reason] };
}

export interface LineMoveRequest {
  readonly lineId: string;
  readonly name: Extract<LineMoveName, "check" | "approve" | "refuse" | "reverse">;
  readonly seenVersion: number;
  readonly reason: string;
}

/** Moves one line on: load, decide by the table, save with the version in the WHERE, and a row of history. */
export async function moveLine(actor: Actor, request: LineMoveRequest, now = new Date()): Promise<LineAnswer> {
  const { act, to } = lineMoves[request.name];
  if (!may(actor, act)) return notAllowed;
  try {
    return await asActor(actor, async (tx) => {
      const found = await tx.settlementLine.findUnique({ where: { id: request.lineId }, select: { returnId: true } });
      if (found === null) return notFound;
      await lockMoneyOf(tx, found.returnId, actor.userId);
      const line = await readLine(tx, request.lineId);
      if (line === null) return notFound;
      const passedAlone = await readPassedAlone(tx, actor.userId, [line.returnId], now);
      const limit = await readReturnSettings(tx, now, BENCH_ZONE);
      const why = refusalOfLineMove(
        {
          ...line,
          ...readReversal(line),
          isReversal: line.kind === "reversal",
          checkedByUserId: readChecker(line),
          isAboveLimit: isAboveLineLimit(line, limit, passedAlone(line)),
          notOwed: await readNotOwed(tx, line),
          isOutsideSettlement: line.isOutsideSettlement,
        },
        { ...request, byUserId: actor.userId },
      );
      if (why !== null) return refuse(why);
      if (to === null) return await reverseLine(tx, actor, line, request.reason, now);
      const approval = to === "approved" ? { approvedByUserId: actor.userId, approvedByName: actor.name } : {};
      const version = line.version + 1;
      const { count } = await tx.settlementLine.updateMany({
        where: { id: line.id, version: line.version, state: line.state },
        data: { state: to, version, ...(request.reason === "" ? {} : { reason: request.reason }), ...approval },
      });
      if (count !== 1) return refuse("someone-changed-this");
      if (to === "approved" && line.reversesLineId !== null)
        await tx.settlementLine.update({ where: { id: line.reversesLineId }, data: { reversedAt: now } });
      await appendLineMove(tx, actor, {
        lineId: line.id,
        version,
        from: line.state,
        to,
        reason: request.reason,
        at: now,
      });
      if (to === "approved" && line.reversesLineId !== null)
        await putBesideItsLine(tx, actor, { id: line.id, version, reversesLineId: line.reversesLineId }, now);
      return { ok: true };
    });
  } catch (error) {
    if (breaksUnique(error, "SettlementLine_one_reversal")) return refuse("reversal-open");
    throw error;
  }
}

/**
 * Puts a reversal that is approved now into the statement that holds its line, where nobody paid that yet: what is not owed any
 * more is neither paid with one statement and taken back with another, nor shown to the dealer as owed.
 */
async function putBesideItsLine(
  tx: Transaction,
  actor: Actor,
  reversal: { readonly id: string; readonly version: number; readonly reversesLineId: string },
  now: Date,
): Promise<void> {
  const { statement } = await tx.settlementLine.findUniqueOrThrow({
    where: { id: reversal.reversesLineId },
    select: { statement: { select: { id: true, number: true, paidAt: true, totalMinor: true } } },
  });
  if (statement === null || statement.paidAt !== null) return;
  const version = reversal.version + 1;
  const { amountMinor } = await tx.settlementLine.update({
    where: { id: reversal.id },
    data: { state: "in-statement", statementId: statement.id, version },
    select: { amountMinor: true },
  });
  // A statement that somebody paid meanwhile refuses it, and with it the whole move.
  await tx.settlementStatement.update({
    where: { id: statement.id },
    data: { totalMinor: statement.totalMinor + amountMinor },
    select: { id: true },
  });
  await appendLineMove(tx, actor, {
    lineId: reversal.id,
    version,
    from: "approved",
    to: "in-statement",
    reason: `In statement ${statement.number}, beside the line it takes back.`,
    at: now,
  });
}

async function reverseLine(
  tx: Transaction,
  actor: Actor,
  line: NonNullable<Awaited<ReturnType<typeof readLine>>>,
  reason: string,
  now: Date,
): Promise<LineAnswer> {
  const reversal = await tx.settlementLine.create({
    data: {
      returnId: line.returnId,
      dealerId: line.dealerId,
      kind: "reversal",
      operation: line.operation,
      currency: line.currency,
      amountMinor: -line.amountMinor,
      state: "claimed",
      clientKey: randomUUID(),
      reason,
      claimedByUserId: actor.userId,
      claimedByName: actor.name,
      claimedAt: now,
      reversesLineId: line.id,
    },
    select: { id: true },
  });
  await appendLineMove(tx, actor, { lineId: reversal.id, version: 1, from: null, to: "claimed", reason, at: now });
  return { ok: true };
}

export const reversalSelect = {
  reversedAt: true,
  reversals: { where: { state: { in: ["claimed", "checked"] } }, select: { id: true } },
} as const satisfies Prisma.SettlementLineSelect;

/** Reversed is what two people took back: a reversal that was only claimed, or refused, leaves its line as it was. */
export function readReversal({
  reversedAt,
  reversals,
}: {
  readonly reversedAt: Date | null;
  readonly reversals: readonly unknown[];
}): Pick<LineStanding, "isReversed" | "isReversalOpen"> {
  return { isReversed: reversedAt !== null, isReversalOpen: reversals.length > 0 };
}

/** Why nothing is owed for the return of a line now; null where something may be. */
export async function readNotOwed(
  tx: Transaction,
  line: {
    readonly returnId: string;
    readonly kind: string;
    readonly operation: string;
    readonly state: string;
    readonly claimedAt: Date;
    readonly claimedFor: ReturnType<typeof readClaimedFor>;
  },
): Promise<NotOwed | null> {
  const isPaidWithJoined = await isPaidWithJoinedReturn(tx, line.returnId, line);
  return whyNotOwed({ ...line.claimedFor, isPaidWithJoined }, line);
}

async function readLine(tx: Transaction, lineId: string) {
  const line = await tx.settlementLine.findUnique({
    where: { id: lineId },
    select: {
      id: true,
      returnId: true,
      dealerId: true,
      kind: true,
      operation: true,
      state: true,
      version: true,
      currency: true,
      amountMinor: true,
      claimedByUserId: true,
      claimedAt: true,
      ...reversalSelect,
      ...checkerSelect,
      reversesLineId: true,
      return: { select: { ...claimedForSelect, ...settlementWindowSelect } },
    },
  });
  if (line === null) return null;
  const { return: of, ...row } = line;
  return {
    ...row,
    state: readLineState(line.state),
    claimedFor: readClaimedFor(of),
    isOutsideSettlement: readIsOutsideSettlement(of),
  };
}

export function readLineState(stored: string): LineState {
  const state = lineStates.find((known) => known === stored);
  if (state === undefined) throw new RangeError(`state of a line: ${stored} is unknown`);
  return state;
}
