import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type DraftAnswers, draftAnswersSchema, isWorthKeeping } from "@/lib/returns/draft-answers.schema";
import { Prisma } from "@/prisma/generated/client";
import { asActor, type Transaction } from "./database";
import { breaksUnique } from "./unique-violation";

export interface DraftToKeep {
  readonly answers: DraftAnswers;
  /** What the form knows of the readings file; kept as it is and read by the form alone. */
  readonly reading: Prisma.InputJsonValue | null;
  /** The version this device saw last; 0 before the first save. */
  readonly seenVersion: number;
}

export type DraftAnswer =
  | { readonly ok: true; readonly version: number }
  | {
      readonly ok: false;
      readonly reason: "not-allowed" | "nothing-answered" | "sent-already" | "someone-went-on";
      readonly sentence: string;
    };

const refusals = {
  "not-allowed": "A return is kept by a dealer's own account.",
  "nothing-answered": "Nothing is answered yet, so there is nothing to keep.",
  "sent-already": "This return was sent meanwhile. It stands under your returns.",
  "someone-went-on": "Somebody went on with this return on another device.",
} as const;

function refuse(reason: keyof typeof refusals): DraftAnswer {
  return { ok: false, reason, sentence: refusals[reason] };
}

/** Keeps what is answered so far for the whole workshop. A device that is behind overwrites nothing and is told. */
export async function keepDraft(actor: Actor, draft: DraftToKeep, now = new Date()): Promise<DraftAnswer> {
  const { dealerId } = actor;
  if (!may(actor, "lodge-return") || dealerId === null) return refuse("not-allowed");
  const { answers, seenVersion } = draft;
  if (!isWorthKeeping(answers)) return refuse("nothing-answered");
  const key = { dealerId, clientKey: answers.clientKey };
  const kept = { answers, reading: draft.reading ?? Prisma.DbNull, savedByName: actor.name, savedAt: now };
  try {
    return await asActor(actor, async (tx) => {
      if ((await tx.return.count({ where: key })) > 0) return refuse("sent-already");
      if (seenVersion === 0) {
        await tx.returnDraft.create({
          data: { ...key, ...kept, startedByUserId: actor.userId, startedByName: actor.name },
          select: { id: true },
        });
        return { ok: true, version: 1 };
      }
      const version = seenVersion + 1;
      const { count } = await tx.returnDraft.updateMany({
        where: { ...key, version: seenVersion },
        data: { ...kept, version },
      });
      return count === 1 ? { ok: true, version } : refuse("someone-went-on");
    });
  } catch (error) {
    if (breaksUnique(error, "clientKey")) return refuse("someone-went-on");
    throw error;
  }
}

/** Begins a return for a dealer to finish and send: service heard of it first. False where there is no such dealer. */
export async function startDraftFor(
  actor: Actor,
  dealerCode: string,
  answers: DraftAnswers,
  now = new Date(),
): Promise<boolean> {
  if (!may(actor, "lodge-on-behalf")) return false;
  return asActor(actor, async (tx) => {
    const dealer = await tx.dealer.findUnique({ where: { code: dealerCode }, select: { id: true } });
    if (dealer === null) return false;
    const by = { startedByUserId: actor.userId, startedByName: actor.name, savedByName: actor.name, savedAt: now };
    await tx.returnDraft.createMany({
      data: { dealerId: dealer.id, clientKey: answers.clientKey, answers, isOnBehalf: true, ...by },
      // The second tap on the same form keeps nothing twice.
      skipDuplicates: true,
    });
    return true;
  });
}

const draftSelect = {
  clientKey: true,
  answers: true,
  reading: true,
  version: true,
  isOnBehalf: true,
  startedByName: true,
  savedByName: true,
  savedAt: true,
} as const satisfies Prisma.ReturnDraftSelect;

export interface DraftView {
  readonly clientKey: string;
  readonly answers: DraftAnswers;
  readonly reading: unknown;
  readonly version: number;
  /** Begun by the maker's service for this dealer. */
  readonly isOnBehalf: boolean;
  readonly startedByName: string;
  readonly savedByName: string;
  readonly savedAt: Date;
}

/** What this person's workshop has not sent yet, the latest first. */
export async function listDrafts(actor: Actor): Promise<DraftView[]> {
  const { dealerId } = actor;
  if (!may(actor, "lodge-return") || dealerId === null) return [];
  const rows = await asActor(actor, (tx) =>
    tx.returnDraft.findMany({ where: { dealerId }, select: draftSelect, orderBy: { savedAt: "desc" } }),
  );
  return rows.map(viewOf);
}

/** One of them, by its key; null where it is gone or another dealer's. */
export async function readDraft(actor: Actor, clientKey: string): Promise<DraftView | null> {
  const { dealerId } = actor;
  if (!may(actor, "lodge-return") || dealerId === null) return null;
  const row = await asActor(actor, (tx) =>
    tx.returnDraft.findUnique({ where: { dealerId_clientKey: { dealerId, clientKey } }, select: draftSelect }),
  );
  return row === null ? null : viewOf(row);
}

function viewOf({ answers, ...row }: Prisma.ReturnDraftGetPayload<{ select: typeof draftSelect }>): DraftView {
  return { ...row, answers: { ...draftAnswersSchema.parse(answers), clientKey: row.clientKey } };
}

/** Throws a return away that was never sent. */
export async function dropDraft(actor: Actor, clientKey: string): Promise<void> {
  const { dealerId } = actor;
  if (!may(actor, "lodge-return") || dealerId === null) return;
  await asActor(actor, (tx) => tx.returnDraft.deleteMany({ where: { dealerId, clientKey } }));
}

/** The draft goes with the sending; who began it on behalf of the dealer is named in the history. */
export async function takeDraft(
  tx: Transaction,
  key: { readonly dealerId: string; readonly clientKey: string },
): Promise<{ readonly begunOnBehalfBy: string | null }> {
  const draft = await tx.returnDraft.findUnique({
    where: { dealerId_clientKey: key },
    select: { isOnBehalf: true, startedByName: true },
  });
  if (draft === null) return { begunOnBehalfBy: null };
  await tx.returnDraft.deleteMany({ where: key });
  return { begunOnBehalfBy: draft.isOnBehalf ? draft.startedByName : null };
}
