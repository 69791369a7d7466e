import "server-only";
import { randomUUID } from "node:crypto";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type Balance, balances } from "@/lib/settlement/balance";
import { isAboveLineLimit } from "@/lib/settlement/line-limit";
import { type LineState, waitingLineStates } from "@/lib/settlement/line-moves";
import { operationOf } from "@/lib/settlement/operations";
import { whyNotOwed } from "@/lib/settlement/owed-for";
import type { Prisma } from "@/prisma/generated/client";
import { BENCH_ZONE } from "../bench-tests/instruments";
import { fromDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { readReturnSettings } from "../returns/return-settings";
import { checkerSelect, readChecker, readPassedAlone } from "./passed-alone";
import { claimedForSelect, readClaimedFor, readIsOutsideSettlement, settlementWindowSelect } from "./settlement-claims";
import { readLineState, readReversal, reversalSelect } from "./settlement-moves";

export interface LineView {
  readonly id: string;
  readonly reference: string;
  readonly dealerId: string;
  readonly dealerName: string;
  readonly what: string;
  readonly state: LineState;
  readonly version: number;
  readonly currency: string;
  readonly amountMinor: number;
  readonly rateFrom: string | null;
  readonly reason: string;
  readonly claimedAt: Date;
  readonly claimedByName: string;
  readonly isOwnClaim: boolean;
  /** This person checked it, and it is more than one person passes, alone or with other lines of its return. */
  readonly isForAnotherApprover: boolean;
  readonly isReversal: boolean;
  readonly isReversed: boolean;
  readonly isReversalOpen: boolean;
  /** Its return was refused, joined to another or given up. */
  readonly isNotOwed: boolean;
  /** The complaint came after the time that counts between maker and dealer. */
  readonly isOutsideSettlement: boolean;
  readonly statementNumber: number | null;
  readonly paidAt: Date | null;
}

export interface MoneyPage {
  /** Claimed, checked or approved: all of them, the one that waits longest first. */
  readonly waiting: readonly LineView[];
  /** In a statement, paid or refused: the newest. */
  readonly done: readonly LineView[];
  /** How many are done in all; `done` holds at most DONE_SHOWN of them. */
  readonly doneInAll: number;
  /** Of every line there is, shown or not. */
  readonly balances: readonly Balance[];
}

const lineSelect = {
  id: true,
  returnId: true,
  dealerId: true,
  kind: true,
  operation: true,
  minutes: true,
  state: true,
  version: true,
  currency: true,
  amountMinor: true,
  reason: true,
  claimedAt: true,
  claimedByName: true,
  claimedByUserId: true,
  return: { select: { reference: true, ...claimedForSelect, ...settlementWindowSelect } },
  dealer: { select: { name: true } },
  rate: { select: { validFrom: true } },
  ...reversalSelect,
  ...checkerSelect,
  statement: { select: { number: true, paidAt: true } },
} as const;

/** Lines that are done and shown on the page, the newest; the file holds all. */
const DONE_SHOWN = 100;
/** Statements shown, the newest. */
const STATEMENTS_SHOWN = 500;

/** The dealer's own lines and balance. Null where the person may not ask. */
export function readOwnMoney(actor: Actor): Promise<MoneyPage | null> {
  if (!may(actor, "read-own-money") || actor.dealerId === null) return Promise.resolve(null);
  return readPage(actor, { dealerId: actor.dealerId });
}

/** Every line of the dealer's own, the newest first: what the file is made of. Null where the person may not ask. */
export function readOwnLines(actor: Actor): Promise<LineView[] | null> {
  if (!may(actor, "read-own-money") || actor.dealerId === null) return Promise.resolve(null);
  const { dealerId } = actor;
  return asActor(actor, (tx) => readLines(tx, actor, { where: { dealerId }, orderBy: { claimedAt: "desc" } }));
}

/** Every dealer's lines for a file, for whoever may take them out of the house. Null where the person may not. */
export function exportLines(actor: Actor): Promise<LineView[] | null> {
  if (!may(actor, "export-money")) return Promise.resolve(null);
  return asActor(actor, (tx) => readLines(tx, actor, { where: {}, orderBy: { claimedAt: "desc" } }));
}

/** Every dealer's lines, what must be done first on top. Null where the person may not ask. */
export function readMoney(actor: Actor): Promise<MoneyPage | null> {
  if (!may(actor, "read-money")) return Promise.resolve(null);
  return readPage(actor, {});
}

function readPage(actor: Actor, whose: { dealerId?: string }): Promise<MoneyPage> {
  const isWaiting = { ...whose, state: { in: [...waitingLineStates] } };
  const isDone = { ...whose, state: { notIn: [...waitingLineStates] } };
  return asActor(actor, async (tx) => {
    const sums = await tx.settlementLine.groupBy({
      by: ["currency", "state"],
      where: whose,
      _sum: { amountMinor: true },
      _count: true,
    });
    return {
      waiting: await readLines(tx, actor, { where: isWaiting, orderBy: { claimedAt: "asc" } }),
      done: await readLines(tx, actor, { where: isDone, orderBy: { claimedAt: "desc" }, take: DONE_SHOWN }),
      doneInAll: await tx.settlementLine.count({ where: isDone }),
      balances: balances(
        sums.map(({ currency, state, _sum, _count }) => ({
          currency,
          state: readLineState(state),
          amountMinor: _sum.amountMinor ?? 0,
          lines: _count,
        })),
      ),
    };
  });
}

type LineQuery = Pick<Prisma.SettlementLineFindManyArgs, "where" | "orderBy" | "take">;

async function readLines(tx: Transaction, actor: Actor, query: LineQuery): Promise<LineView[]> {
  const rows = await tx.settlementLine.findMany({ ...query, select: lineSelect });
  const now = new Date();
  const limit = await readReturnSettings(tx, now, BENCH_ZONE);
  const checked = rows.filter((row) => row.state === "checked" && readChecker(row) === actor.userId);
  const passedAlone = await readPassedAlone(
    tx,
    actor.userId,
    checked.map(({ returnId }) => returnId),
    now,
  );
  return rows.map(({ return: of, dealer, rate, statement, kind, ...row }) => ({
    id: row.id,
    reference: of.reference,
    dealerId: row.dealerId,
    dealerName: dealer.name,
    what: whatOf(kind, row.operation, row.minutes),
    state: readLineState(row.state),
    version: row.version,
    currency: row.currency,
    amountMinor: row.amountMinor,
    rateFrom: rate === null ? null : fromDateColumn(rate.validFrom),
    reason: row.reason,
    claimedAt: row.claimedAt,
    claimedByName: row.claimedByName,
    isOwnClaim: row.claimedByUserId === actor.userId,
    isForAnotherApprover: readChecker(row) === actor.userId && isAboveLineLimit(row, limit, passedAlone(row)),
    isReversal: kind === "reversal",
    ...readReversal(row),
    isNotOwed:
      whyNotOwed({ ...readClaimedFor(of), isPaidWithJoined: false }, { kind, operation: row.operation }) !== null,
    isOutsideSettlement: readIsOutsideSettlement(of),
    statementNumber: statement?.number ?? null,
    paidAt: statement?.paidAt ?? null,
  }));
}

function whatOf(kind: string, operation: string, minutes: number | null): string {
  const label = operationOf(operation)?.label ?? "";
  if (kind === "freight") return "Freight";
  if (kind === "reversal") return label === "" ? "Reversal of freight" : `Reversal: ${label}`;
  return minutes === null ? label : `${label}, ${minutes} minutes`;
}

export interface StatementView {
  readonly number: number;
  readonly dealerName: string;
  readonly currency: string;
  readonly totalMinor: number;
  readonly closedAt: Date;
  readonly closedByName: string;
  readonly paidAt: Date | null;
  readonly paymentReference: string | null;
}

/** Statements the person may see, newest first: a dealer's own, or everybody's for the house. */
export async function listStatements(actor: Actor): Promise<StatementView[]> {
  if (!may(actor, "read-own-money") && !may(actor, "read-money")) return [];
  const rows = await asActor(actor, (tx) =>
    tx.settlementStatement.findMany({
      ...(actor.dealerId === null ? {} : { where: { dealerId: actor.dealerId } }),
      select: {
        number: true,
        currency: true,
        totalMinor: true,
        closedAt: true,
        closedByName: true,
        paidAt: true,
        paymentReference: true,
        dealer: { select: { name: true } },
      },
      // What is to be paid is never cut off by what was.
      orderBy: [{ paidAt: { sort: "desc", nulls: "first" } }, { number: "desc" }],
      take: STATEMENTS_SHOWN,
    }),
  );
  return rows.map(({ dealer, ...row }) => ({ ...row, dealerName: dealer.name }));
}

/** A key for a claim that is about to be written: sent twice, it is one claim. */
export function newClaimKey(): string {
  return randomUUID();
}
