import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readReturnReference } from "@/lib/returns/return-reference";
import { readAmount, sayMoney } from "@/lib/settlement/money";
import {
  openSupplierStates,
  readSupplierState,
  refusalOfSupplierMove,
  type SupplierMoveName,
  type SupplierState,
  supplierMoveNames,
  supplierMoves,
  supplierRefusalSentences,
} from "@/lib/settlement/supplier-claim";
import type { SupplierClaimForm, SupplierStep } from "@/lib/settlement/supplier-claim.schema";
import { type CalendarDate, calendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Prisma } from "@/prisma/generated/client";
import { fromOptionalDateColumn, toOptionalDateColumn } from "../calendar-columns";
import { linkTo, type SupplierMoveRow, supplierFactsSelect, supplierHistoryEntry } from "../chains/chained-rows";
import { asActor, type Transaction } from "../database";
import { breaksUnique } from "../unique-violation";

/** One supplier's line as manager and finance see it. */
export interface SupplierClaimView {
  readonly id: string;
  readonly reference: string;
  readonly supplier: string;
  readonly lotCode: string;
  readonly state: SupplierState;
  readonly version: number;
  readonly currency: string;
  readonly amountMinor: number;
  readonly sharePercent: number | null;
  readonly agreedMinor: number | null;
  readonly recoveredMinor: number | null;
  readonly why: string;
  readonly openedAt: Date;
  readonly openedByName: string;
  readonly noticeBy: CalendarDate | null;
  /** The last day for the notice is over and nobody recorded one. */
  readonly isNoticeOverdue: boolean;
  readonly moves: readonly {
    readonly to: SupplierState;
    readonly reason: string;
    readonly actorName: string;
    readonly at: Date;
  }[];
  /** The steps of the table that are open to this person. */
  readonly next: readonly SupplierMoveName[];
}

/** What is still open with one supplier in one currency. */
export interface SupplierSum {
  readonly supplier: string;
  readonly currency: string;
  readonly lines: number;
  readonly costMinor: number;
  /** Of lines whose share is agreed. */
  readonly agreedMinor: number;
}

export interface SupplierPage {
  readonly open: readonly SupplierClaimView[];
  readonly done: readonly SupplierClaimView[];
  readonly sums: readonly SupplierSum[];
  readonly mayOpen: boolean;
}

const viewSelect = {
  id: true,
  lotCode: true,
  supplier: true,
  state: true,
  version: true,
  currency: true,
  amountMinor: true,
  sharePercent: true,
  agreedMinor: true,
  agreedByUserId: true,
  recoveredMinor: true,
  why: true,
  openedAt: true,
  openedByUserId: true,
  openedByName: true,
  noticeBy: true,
  return: { select: { reference: true } },
  moves: { select: { to: true, reason: true, actorName: true, at: true }, orderBy: { version: "asc" } },
} as const satisfies Prisma.SupplierClaimSelect;

type ClaimRow = Prisma.SupplierClaimGetPayload<{ select: typeof viewSelect }>;

/** What suppliers may owe: open lines first told, the longest open first, and what is over. Null where one may not ask. */
export async function readSupplierClaims(actor: Actor, now = new Date()): Promise<SupplierPage | null> {
  if (!may(actor, "claim-from-supplier")) return null;
  const rows = await asActor(actor, (tx) =>
    tx.supplierClaim.findMany({ select: viewSelect, orderBy: [{ supplier: "asc" }, { openedAt: "asc" }] }),
  );
  const views = rows.map((row) => viewOf(actor, row, now));
  const open = views.filter(({ state }) => isOpen(state));
  return {
    open,
    done: views.filter(({ state }) => !isOpen(state)).reverse(),
    sums: sumsOf(open),
    mayOpen: may(actor, "open-supplier-claim"),
  };
}

/** Every line, for a file. Null where one may not take it. */
export async function exportSupplierClaims(
  actor: Actor,
  now = new Date(),
): Promise<readonly SupplierClaimView[] | null> {
  const page = may(actor, "export-money") ? await readSupplierClaims(actor, now) : null;
  return page === null ? null : [...page.open, ...page.done];
}

const isOpen = (state: SupplierState) => openSupplierStates.some((one) => one === state);

function viewOf(
  actor: Actor,
  { return: of, noticeBy, openedByUserId, agreedByUserId, moves, ...row }: ClaimRow,
  now: Date,
) {
  const state = readSupplierState(row.state);
  const day = fromOptionalDateColumn(noticeBy);
  return {
    ...row,
    state,
    reference: of.reference,
    noticeBy: day,
    isNoticeOverdue: state === "possible" && day !== null && day < civilDateAt(now, "UTC"),
    moves: moves.map(({ to, ...move }) => ({ ...move, to: readSupplierState(to) })),
    next: supplierMoveNames.filter((name) => {
      const { from, act, notBy } = supplierMoves[name];
      const isSame =
        (notBy === "whoever-opened" && openedByUserId === actor.userId) ||
        (notBy === "whoever-agreed" && agreedByUserId === actor.userId);
      return may(actor, act) && from.includes(state) && !isSame;
    }),
  };
}

function sumsOf(open: readonly SupplierClaimView[]): SupplierSum[] {
  const sums = new Map<string, SupplierSum>();
  for (const { supplier, currency, amountMinor, agreedMinor } of open) {
    const key = `${supplier} ${currency}`;
    const before = sums.get(key) ?? { supplier, currency, lines: 0, costMinor: 0, agreedMinor: 0 };
    sums.set(key, {
      ...before,
      lines: before.lines + 1,
      costMinor: before.costMinor + amountMinor,
      agreedMinor: before.agreedMinor + (agreedMinor ?? 0),
    });
  }
  return [...sums.values()];
}

export type SupplierAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly field: string; readonly sentence: string };

const refuse = (field: string, sentence: string): SupplierAnswer => ({ ok: false, field, sentence });

/** Opens a line for the part that failed under a return: its failure is confirmed, and the lot was in the pack. */
export async function openSupplierClaim(
  actor: Actor,
  { reference: typed, lotCode, currency, amountMinor, noticeBy, why }: SupplierClaimForm,
  now = new Date(),
): Promise<SupplierAnswer> {
  if (!may(actor, "open-supplier-claim")) return refuse("reference", "This is not yours to do.");
  const reading = readReturnReference(typed);
  if (reading.kind !== "reference") return refuse("reference", "There is no such return.");
  try {
    return await asActor(actor, async (tx) => {
      const row = await tx.return.findUnique({
        where: { reference: reading.reference },
        select: {
          id: true,
          decision: { select: { confirmedFailure: true } },
          pack: { select: { lots: { select: { lot: { select: { id: true, code: true, supplier: true } } } } } },
        },
      });
      if (row === null) return refuse("reference", "There is no such return.");
      if (row.decision?.confirmedFailure !== true)
        return refuse(
          "reference",
          "No failure of the pack is confirmed on this return, so nothing can be asked of a supplier.",
        );
      const named = new Map(row.pack.lots.flatMap(({ lot }) => (lot.code === lotCode ? [[lot.id, lot] as const] : [])));
      const [lot] = named.values();
      if (lot === undefined || named.size > 1)
        return refuse("lotCode", "No part of this lot was ever in this pack. Take the code from its build record.");
      const { id } = await tx.supplierClaim.create({
        data: {
          returnId: row.id,
          lotId: lot.id,
          lotCode: lot.code,
          supplier: lot.supplier,
          currency,
          amountMinor,
          noticeBy: toOptionalDateColumn(noticeBy === null ? null : calendarDate(noticeBy)),
          why,
          openedAt: now,
          openedByUserId: actor.userId,
          openedByName: actor.name,
          state: "possible",
        },
        select: { id: true },
      });
      await appendMove(tx, actor, {
        claimId: id,
        version: 1,
        from: null,
        to: "possible",
        reason: why,
        sharePercent: null,
        amountMinor,
        at: now,
      });
      return { ok: true };
    });
  } catch (error) {
    if (breaksUnique(error, "SupplierClaim_returnId_lotId_key"))
      return refuse("lotCode", "There is a line for this return and lot already.");
    throw error;
  }
}

/** Moves one line on by the table, with the version in the WHERE and a row of history. */
export async function moveSupplierClaim(actor: Actor, step: SupplierStep, now = new Date()): Promise<SupplierAnswer> {
  const { act, to } = supplierMoves[step.name];
  if (!may(actor, act)) return refuse("form", "This is not yours to do.");
  return asActor(actor, async (tx) => {
    const line = await tx.supplierClaim.findUnique({ where: { id: step.claimId }, select: viewSelect });
    if (line === null) return refuse("form", "There is no such line for you.");
    const typed = step.amount === "" ? undefined : readAmount(step.amount, line.currency);
    if (typed === null) return refuse("amount", "Give the amount with as many decimals as the currency has.");
    const sharePercent = step.share === "" ? undefined : Number(step.share.replace(",", "."));
    const { name, seenVersion, reason } = step;
    const why = refusalOfSupplierMove(
      { ...line, state: readSupplierState(line.state) },
      { name, seenVersion, reason, sharePercent, amountMinor: typed, byUserId: actor.userId },
    );
    if (why !== null) return refuse("form", supplierRefusalSentences[why]);
    const { asks } = supplierMoves[name];
    const agreed = { sharePercent: sharePercent ?? null, agreedMinor: typed ?? null, agreedByUserId: actor.userId };
    const { count } = await tx.supplierClaim.updateMany({
      where: { id: line.id, version: line.version, state: line.state },
      data: {
        state: to,
        version: line.version + 1,
        ...(asks === "share-and-amount" ? agreed : asks === "amount" ? { recoveredMinor: typed ?? null } : {}),
      },
    });
    if (count !== 1) return refuse("form", supplierRefusalSentences["someone-changed-this"]);
    await appendMove(tx, actor, {
      claimId: line.id,
      version: line.version + 1,
      from: line.state,
      to,
      reason,
      sharePercent: asks === "share-and-amount" ? (sharePercent ?? null) : null,
      amountMinor: asks === null ? null : (typed ?? null),
      at: now,
    });
    return { ok: true };
  });
}

type MoveToAppend = Omit<SupplierMoveRow, "actorUserId" | "actorName" | "actorRole">;

async function appendMove(tx: Transaction, actor: Actor, move: MoveToAppend): Promise<void> {
  const before = await tx.supplierMove.findFirst({
    where: { claimId: move.claimId },
    orderBy: { version: "desc" },
    select: { hash: true },
  });
  const line = await tx.supplierClaim.findUniqueOrThrow({ where: { id: move.claimId }, select: supplierFactsSelect });
  const row = { ...move, actorUserId: actor.userId, actorName: actor.name, actorRole: actor.role };
  const link = linkTo(before?.hash ?? null, supplierHistoryEntry(row, line), "supplier-history-1");
  await tx.supplierMove.create({ data: { ...row, ...link }, select: { id: true } });
}

/** What a line came to, in words: agreed, recovered, or only what it cost. */
export function sayClaimMoney({
  currency,
  amountMinor,
  sharePercent,
  agreedMinor,
  recoveredMinor,
}: SupplierClaimView): string {
  return [
    `cost ${sayMoney(amountMinor, currency)}`,
    ...(agreedMinor === null ? [] : [`agreed ${sayMoney(agreedMinor, currency)} (${sharePercent} %)`]),
    ...(recoveredMinor === null ? [] : [`recovered ${sayMoney(recoveredMinor, currency)}`]),
  ].join(", ");
}
