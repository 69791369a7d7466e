import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import {
  type LineMoveName,
  type LineRefusal,
  lineRefusalSentences,
  refusalOfLineMove,
} from "@/lib/settlement/line-moves";
import type { Prisma } from "@/prisma/generated/client";
import { asActor, type Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import { breaksUnique } from "../unique-violation";
import { appendLineMove, claimedForSelect, readClaimedFor } from "./settlement-claims";
import { readLineState, readNotOwed, readReversal, reversalSelect } from "./settlement-moves";

export type StatementAnswer =
  | {
      readonly ok: true;
      readonly number: number;
      readonly repeated: boolean;
      /** Approved lines that were not put in because they are not owed now, one sentence each. */
      readonly leftOut?: readonly string[];
    }
  | {
      readonly ok: false;
      readonly reason:
        | "not-allowed"
        | "nothing-approved"
        | "not-found"
        | "paid-otherwise"
        | "reference-used"
        | "not-owed";
      readonly sentence: string;
    };

function refuse(reason: Extract<StatementAnswer, { ok: false }>["reason"], sentence: string): StatementAnswer {
  return { ok: false, reason, sentence };
}

/** Closes a statement over every approved line of a dealer in one currency; each line goes into one statement only. */
export async function closeStatement(
  actor: Actor,
  dealerId: string,
  currency: string,
  now = new Date(),
): Promise<StatementAnswer> {
  if (!may(actor, "check-money")) return refuse("not-allowed", "This is not yours to do.");
  return asActor(actor, async (tx) => {
    // Locked, so that two closings at once do not share lines and no sum is taken over a line that moves meanwhile.
    const locked = await tx.$queryRaw<{ id: string }[]>`
      SELECT l."id"::text AS "id" FROM "SettlementLine" l
      WHERE l."dealerId" = ${dealerId}::uuid AND l."currency" = ${currency} AND l."state" = 'approved'
      ORDER BY l."claimedAt" FOR UPDATE`;
    if (locked.length === 0) return refuse("nothing-approved", "No approved line waits for a statement.");
    const { lines, leftOut } = await sortByOwed(
      tx,
      locked.map(({ id }) => id),
      "put-in-statement",
    );
    if (lines.length === 0)
      return refuse("nothing-approved", `Nothing that is approved is owed now: ${sayLeftOut(leftOut)}.`);
    const statement = await tx.settlementStatement.create({
      data: {
        dealerId,
        currency,
        totalMinor: lines.reduce((sum, { amountMinor }) => sum + amountMinor, 0),
        closedAt: now,
        closedByUserId: actor.userId,
        closedByName: actor.name,
      },
      select: { id: true, number: true },
    });
    for (const { id, version } of lines) {
      await tx.settlementLine.update({
        where: { id },
        data: { state: "in-statement", statementId: statement.id, version: version + 1 },
      });
      const reason = `In statement ${statement.number}.`;
      const move = { lineId: id, version: version + 1, from: "approved", to: "in-statement", reason, at: now };
      await appendLineMove(tx, actor, move);
    }
    for (const {
      returnId,
      return: { reference },
    } of new Map(lines.map((line) => [line.returnId, line])).values()) {
      const occasion = `statement ${statement.number}`;
      await queueNotice(tx, { kind: "credited", reference, returnId, occasion, to: { dealerId } });
    }
    return { ok: true, number: statement.number, repeated: false, leftOut: leftOut.map(sayOneLeftOut) };
  });
}

const lineSelect = {
  id: true,
  returnId: true,
  kind: true,
  operation: true,
  state: true,
  version: true,
  amountMinor: true,
  claimedByUserId: true,
  claimedAt: true,
  ...reversalSelect,
  return: { select: { reference: true, ...claimedForSelect } },
} as const satisfies Prisma.SettlementLineSelect;

type StatementLine = Prisma.SettlementLineGetPayload<{ select: typeof lineSelect }>;

interface LeftOut {
  readonly reference: string;
  readonly why: LineRefusal;
}

/** The lines that may make a move now, by the table, and those that may not with the reason. */
async function sortByOwed(
  tx: Transaction,
  ids: readonly string[],
  name: Extract<LineMoveName, "put-in-statement" | "pay">,
): Promise<{ readonly lines: readonly StatementLine[]; readonly leftOut: readonly LeftOut[] }> {
  const rows = await tx.settlementLine.findMany({
    where: { id: { in: [...ids] } },
    select: lineSelect,
    orderBy: { claimedAt: "asc" },
  });
  const lines: StatementLine[] = [];
  const leftOut: LeftOut[] = [];
  for (const row of rows) {
    const standing = {
      ...row,
      state: readLineState(row.state),
      isReversal: row.kind === "reversal",
      ...readReversal(row),
      // Asked when it was approved, and answered there.
      isOutsideSettlement: false,
      checkedByUserId: null,
      isAboveLimit: false,
      notOwed: await readNotOwed(tx, { ...row, claimedFor: readClaimedFor(row.return) }),
    };
    const why = refusalOfLineMove(standing, { name, byUserId: "", seenVersion: row.version, reason: "" });
    if (why === null) lines.push(row);
    else leftOut.push({ reference: row.return.reference, why });
  }
  return { lines, leftOut };
}

const sayOneLeftOut = ({ reference, why }: LeftOut) => `${reference}: ${lineRefusalSentences[why]}`;
const sayLeftOut = (leftOut: readonly LeftOut[]) => leftOut.map(sayOneLeftOut).join(" ").replace(/\.$/, "");

/**
 * Records that a statement was paid, once: the same transfer again is the same answer, another transfer for a paid
 * statement is refused, and a transfer that paid another statement too. Each line has one row of payment at most.
 */
export async function payStatement(
  actor: Actor,
  number: number,
  paymentReference: string,
  now = new Date(),
): Promise<StatementAnswer> {
  if (!may(actor, "check-money")) return refuse("not-allowed", "This is not yours to do.");
  try {
    return await asActor(actor, async (tx) => {
      const statement = await readStatement(tx, number);
      if (statement === null) return refuse("not-found", "There is no such statement.");
      if (statement.paidAt !== null) {
        return statement.paymentReference === paymentReference
          ? { ok: true, number, repeated: true }
          : refuse("paid-otherwise", "This statement is paid already, by another transfer.");
      }
      const ids = statement.lines.map(({ id }) => id);
      const { leftOut } = await sortByOwed(tx, ids, "pay");
      if (leftOut.length > 0)
        return refuse(
          "not-owed",
          `Reverse first what is not owed any more, and have the reversal approved. ${sayLeftOut(leftOut)}.`,
        );
      const { count } = await tx.settlementStatement.updateMany({
        where: { id: statement.id, paidAt: null },
        data: { paidAt: now, paymentReference, paidByUserId: actor.userId },
      });
      if (count !== 1) return refuse("paid-otherwise", "Somebody paid this statement meanwhile.");
      for (const { id, version, amountMinor } of statement.lines) {
        await tx.settlementPayment.create({
          data: { lineId: id, statementId: statement.id, amountMinor, paidAt: now },
        });
        await tx.settlementLine.update({ where: { id }, data: { state: "paid", version: version + 1 } });
        const reason = `Paid with statement ${number}.`;
        await appendLineMove(tx, actor, {
          lineId: id,
          version: version + 1,
          from: "in-statement",
          to: "paid",
          reason,
          at: now,
        });
      }
      return { ok: true, number, repeated: false };
    });
  } catch (error) {
    if (breaksUnique(error, "SettlementStatement_paymentReference_key"))
      return refuse("reference-used", "This transfer paid another statement already.");
    throw error;
  }
}

function readStatement(tx: Transaction, number: number) {
  return tx.settlementStatement.findUnique({
    where: { number },
    select: {
      id: true,
      paidAt: true,
      paymentReference: true,
      lines: { select: { id: true, version: true, amountMinor: true } },
    },
  });
}
