import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readSerial } from "@/lib/packs/serial";
import { type Danger, dangerOf } from "@/lib/returns/danger-signs";
import { type DraftAnswers, draftAnswersSchema, isWorthKeeping } from "@/lib/returns/draft-answers.schema";
import { flagsIn } from "@/lib/safety/incident-flags";
import { unsentReference } from "@/lib/safety/unsent-danger";
import { Prisma } from "@/prisma/generated/client";
import { asActor, asSystem, type Transaction } from "../database";
import { isKeptAsEvidenceAsSystem, serialOfDraft } from "../safety/kept-as-evidence";
import type { FurtherNote } from "../safety/open-incident";
import { raiseBeforeReturn, toldInUnsentReturn } from "../safety/raise-before-return";
import { appendNote, openIncidentUnlessOpen } from "../safety/raise-danger";
import { tellOfDanger } from "../safety/tell-of-danger";
import { breaksUnique } from "../unique-violation";

export interface DraftToKeep {
  readonly answers: DraftAnswers;
  /** What the form knows of the readings file; kept as it is and read by the form alone. */
  readonly reading: Prisma.InputJsonValue | null;
  /** The version this device saw last; 0 before the first save. */
  readonly seenVersion: number;
}

type Work = (tx: Transaction) => Promise<DraftAnswer>;

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
  const danger = dangerOf(answers.dangerSigns);
  // As the system where a danger is told: the flag of a pack without a return is no dealer's to write. Every row is named by the dealer.
  const run = danger.kind === "none" ? (work: Work) => asActor(actor, work) : asSystem;
  let further: FurtherNote | null = null;
  try {
    const answer = await run(async (tx) => {
      if ((await tx.return.count({ where: key })) > 0) return refuse("sent-already");
      if (seenVersion === 0) {
        await tx.returnDraft.create({
          data: { ...key, ...kept, startedByUserId: actor.userId, startedByName: actor.name },
          select: { id: true },
        });
        further = await tellDangerOfDraft(tx, actor, { ...key, serial: answers.serial, danger }, now);
        return { ok: true, version: 1 };
      }
      const version = seenVersion + 1;
      const { count } = await tx.returnDraft.updateMany({
        where: { ...key, version: seenVersion, droppedAt: null },
        data: { ...kept, version },
      });
      if (count !== 1) return refuse("someone-went-on");
      further = await tellDangerOfDraft(tx, actor, { ...key, serial: answers.serial, danger }, now);
      return { ok: true, version };
    });
    if (further !== null) await appendNote(actor, further, now);
    return answer;
  } catch (error) {
    if (breaksUnique(error, "ReturnDraft_dealerId_clientKey_key")) return refuse("someone-went-on");
    throw error;
  }
}

/**
 * Begins a return for a dealer to finish and send: service heard of it first. A danger is never put off so: the house knows
 * of it, and it is lodged now.
 */
export async function startDraftFor(
  actor: Actor,
  dealerCode: string,
  answers: DraftAnswers,
  now = new Date(),
): Promise<"kept" | "no-dealer" | "danger-told"> {
  if (!may(actor, "lodge-on-behalf")) return "no-dealer";
  if (dangerOf(answers.dangerSigns).kind !== "none") return "danger-told";
  return asActor(actor, async (tx) => {
    const dealer = await tx.dealer.findUnique({ where: { code: dealerCode }, select: { id: true } });
    if (dealer === null) return "no-dealer";
    const by = { startedByUserId: actor.userId, startedByName: actor.name, savedByName: actor.name, savedAt: now };
    await tx.returnDraft.createMany({
      data: { dealerId: dealer.id, clientKey: answers.clientKey, answers, isOnBehalf: true, ...by },
      // The second tap on the same form keeps nothing twice.
      skipDuplicates: true,
    });
    return "kept";
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
    tx.returnDraft.findMany({
      where: { dealerId, droppedAt: null },
      select: draftSelect,
      orderBy: { savedAt: "desc" },
    }),
  );
  return rows.map(viewOf);
}

/** One of them, by its key; null where it is gone or another dealer's. */
export async function readDraft(actor: Actor, clientKey: string): Promise<DraftView | null> {
  const { dealerId } = actor;
  if (!may(actor, "lodge-return") || dealerId === null) return null;
  const row = await asActor(actor, (tx) =>
    tx.returnDraft.findUnique({
      where: { dealerId_clientKey: { dealerId, clientKey }, droppedAt: null },
      select: draftSelect,
    }),
  );
  return row === null ? null : viewOf(row);
}

function viewOf({ answers, ...row }: Prisma.ReturnDraftGetPayload<{ select: typeof draftSelect }>): DraftView {
  return { ...row, answers: { ...draftAnswersSchema(() => row.clientKey).parse(answers), clientKey: row.clientKey } };
}

/**
 * Throws a return away that was never sent. One in which a danger was told, or whose pack is evidence
 * (`kept-as-evidence.ts`), leaves the list and is kept: nothing of that is erased.
 */
export async function dropDraft(actor: Actor, clientKey: string, now = new Date()): Promise<void> {
  const { dealerId } = actor;
  if (!may(actor, "lodge-return") || dealerId === null) return;
  const key = { dealerId, clientKey };
  const draft = await asActor(actor, (tx) =>
    tx.returnDraft.findUnique({ where: { dealerId_clientKey: key }, select: { answers: true } }),
  );
  if (draft === null) return;
  const serial = serialOfDraft(draft.answers);
  const isEvidence = await isKeptAsEvidenceAsSystem(serial);
  await asActor(actor, async (tx) => {
    if (!isEvidence) await tx.returnDraft.deleteMany({ where: { ...key, dangerSince: null } });
    await tx.returnDraft.updateMany({ where: key, data: { droppedAt: now } });
  });
}

/** Who of the house took the call: the history names them, and they approve nothing of this return. */
export interface Begun {
  readonly userId: string;
  readonly name: string;
}

/** Who began the draft on behalf of the dealer, for the history, and since when a danger was told in it. */
export async function takeDraft(
  tx: Transaction,
  key: { readonly dealerId: string; readonly clientKey: string },
): Promise<{ readonly begunOnBehalfBy: Begun | null; readonly dangerSince: Date | null }> {
  const draft = await tx.returnDraft.findUnique({
    where: { dealerId_clientKey: key },
    select: { isOnBehalf: true, startedByUserId: true, startedByName: true, dangerSince: true },
  });
  if (draft === null) return { begunOnBehalfBy: null, dangerSince: null };
  const { isOnBehalf, startedByUserId: userId, startedByName: name, dangerSince } = draft;
  return { begunOnBehalfBy: isOnBehalf ? { userId, name } : null, dangerSince };
}

/** The draft is gone once its return is written, which then says what was told in it. */
export async function forgetSentDraft(
  tx: Transaction,
  key: { readonly dealerId: string; readonly clientKey: string },
): Promise<void> {
  await tx.returnDraft.deleteMany({ where: key });
}

interface DraftWithDanger {
  readonly dealerId: string;
  readonly clientKey: string;
  readonly serial: string;
  readonly danger: Danger;
}

/** The maker knows what its server keeps: a danger in an unsent return is told once for each pack and sign, since the first save. */
async function tellDangerOfDraft(
  tx: Transaction,
  actor: Actor,
  { serial, danger, ...key }: DraftWithDanger,
  now: Date,
): Promise<FurtherNote | null> {
  if (danger.kind === "none") return null;
  const where = { dealerId_clientKey: key };
  const select = { dangerSince: true, toldSerial: true, toldSigns: true };
  const draft = await tx.returnDraft.findUniqueOrThrow({ where, select });
  const firstKnownAt = draft.dangerSince ?? now;
  await tx.returnDraft.updateMany({ where: key, data: { dangerSince: firstKnownAt } });
  const read = readSerial(serial);
  const pack =
    read.kind === "serial" ? await tx.pack.findUnique({ where: { serial: read.serial }, select: { id: true } }) : null;
  const named = read.kind === "serial" && pack !== null ? { id: pack.id, serial: read.serial } : null;
  const toldSerial = named?.serial ?? "";
  const told = draft.toldSerial === toldSerial ? draft.toldSigns : [];
  if (danger.signs.every((sign) => told.includes(sign))) return null;
  const toldSigns = [...new Set([...told, ...danger.signs])];
  await tx.returnDraft.updateMany({ where: key, data: { toldSerial, toldSigns } });
  if (named === null) {
    const { code, country } = await tx.dealer.findUniqueOrThrow({
      where: { id: key.dealerId },
      select: { code: true, country: true },
    });
    const flags = flagsIn({ dangerSigns: danger.signs, conditions: [], findings: [] });
    const note = toldInUnsentReturn(danger.signs);
    if (flags.length > 0) {
      const knowledge = [{ kind: "dealer-entry", at: firstKnownAt, note }] as const;
      const which = { packId: null, returnId: null, dealerId: key.dealerId, draftKey: key.clientKey };
      return openIncidentUnlessOpen(tx, actor, { ...which, country, flags, knowledge }, now);
    }
    // Without a pack to flag it is told by its dealer, so that somebody rings there.
    const occasion = `${key.clientKey} ${toldSigns.join(" ")}`;
    await tellOfDanger(tx, { reference: unsentReference(code), occasion });
    return null;
  }
  // What was told before its serial was known is told of this pack.
  const unnamed = { dealerId: key.dealerId, draftKey: key.clientKey, packId: null, closing: null };
  const { count: justNamed } = await tx.incident.updateMany({ where: unnamed, data: { packId: named.id } });
  const early = { dealerId: key.dealerId, serial: named.serial, danger, findings: [], how: "dealer-entry" as const };
  const raised = await raiseBeforeReturn(tx, actor, { ...early, firstKnownAt }, now);
  // A serial alone tells nothing more of the event: nobody is called again for it.
  const isMore = justNamed === 0 || danger.signs.some((sign) => !draft.toldSigns.includes(sign));
  return raised === "raised" || raised === "no-such-pack" || !isMore ? null : raised;
}
