import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { asActor, type Transaction } from "./database";
import { queueNotice } from "./notices";
import { appendLineMove } from "./settlement-claims";
import { breaksUnique } from "./unique-violation";

export type StatementAnswer =
  | { readonly ok: true; readonly number: number; readonly repeated: boolean }
  | {
      readonly ok: false;
      readonly reason: "not-allowed" | "nothing-approved" | "not-found" | "paid-otherwise" | "reference-used";
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
    const lines = await tx.$queryRaw<
      { id: string; version: number; amountMinor: number; reference: string; returnId: string }[]
    >`
      SELECT l."id"::text, l."version", l."amountMinor", r."reference", l."returnId"::text
      FROM "SettlementLine" l JOIN "Return" r ON r."id" = l."returnId"
      WHERE l."dealerId" = ${dealerId}::uuid AND l."currency" = ${currency} AND l."state" = 'approved'
      ORDER BY l."claimedAt" FOR UPDATE OF l`;
    if (lines.length === 0) return refuse("nothing-approved", "No approved line waits for a statement.");
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
    for (const { reference, returnId } of new Map(lines.map((line) => [line.returnId, line])).values()) {
      const occasion = `statement ${statement.number}`;
      await queueNotice(tx, { kind: "credited", reference, returnId, occasion, to: { dealerId } });
    }
    return { ok: true, number: statement.number, repeated: false };
  });
}

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
    if (breaksUnique(error, "paymentReference"))
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
