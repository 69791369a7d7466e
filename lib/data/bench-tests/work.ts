import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type WorkFacts, whyWorkIsRefused } from "@/lib/repair/judge-work";
import { operationOf } from "@/lib/repair/operations";
import { type ReleaseFacts, whyNotReleased } from "@/lib/repair/release";
import type { WorkEntry } from "@/lib/repair/work-entry.schema";
import { atTheWorks } from "@/lib/returns/custody-track";
import { moveRefusals } from "@/lib/returns/move-refusal";
import { readReturnReference } from "@/lib/returns/return-reference";
import { isSetApart } from "@/lib/returns/safety-track";
import { asActor, type Transaction } from "../database";
import { bringLotsInLine } from "../packs/pack-changes";
import { type LoadedStanding, loadStanding } from "../returns/return-standing";
import { lockPack } from "../returns/track-rows";
import { breaksUnique } from "../unique-violation";
import { findPart } from "./parts";
import { type Retest, readRetest } from "./retest";

export type WorkAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly field: string; readonly reason: string; readonly sentence: string };

const notFound = refused("form", "not-found", "There is no such return for you.");

/** Records a piece of work on the pack of a return in work; the lots of the pack follow in the same transaction. */
export function recordWork(actor: Actor, entry: WorkEntry, now = new Date()): Promise<WorkAnswer> {
  return atWork(actor, "work-on-pack", entry.reference, now, async (tx, loaded, order) => {
    const { part: kind } = operationOf(entry.operation);
    const part = kind === null || entry.lotCode === undefined ? null : await findPart(tx, kind, entry.lotCode);
    const why = whyWorkIsRefused(entry, await workFacts(tx, loaded, order, entry, part));
    if (why !== null) return refused(why.field, why.field, why.sentence);
    await tx.workEntry.create({
      data: {
        returnId: loaded.row.id,
        decisionId: order.decisionId,
        packId: loaded.row.packId,
        operation: entry.operation,
        lotId: part?.id ?? null,
        identity: entry.identity ?? null,
        firmware: entry.firmware ?? null,
        groups: entry.groups,
        resistanceMilliohm: entry.resistanceMilliohm,
        minutes: entry.minutes,
        note: entry.note,
        byUserId: actor.userId,
        byName: actor.name,
        at: now,
      },
      select: { id: true },
    });
    await bringLotsInLine(tx, loaded.row.packId);
    return { ok: true };
  });
}

/** Strikes out a piece of work that was recorded by mistake; the part is on the shelf again and the lots of the pack follow. */
export function strikeWork(
  actor: Actor,
  reference: string,
  entryId: string,
  because: string,
  now = new Date(),
): Promise<WorkAnswer> {
  return atWork(actor, "work-on-pack", reference, now, async (tx, loaded, order) => {
    if (order.isReleased) return refused("because", "released-before", "The pack is released: the work stands.");
    if (because.trim().length < 3) return refused("because", "reason-missing", "Write why it is struck out.");
    if (!order.entries.some(({ id }) => id === entryId))
      return refused("because", "not-there", "This entry is struck out already, or not of this work.");
    const by = { byUserId: actor.userId, byName: actor.name, at: now };
    await tx.workStrike.create({ data: { entryId, because, ...by }, select: { entryId: true } });
    await bringLotsInLine(tx, loaded.row.packId);
    return { ok: true };
  });
}

/** Releases a repaired pack by a named person who did none of the work, once it passed the limits of a new build. */
export function releasePack(actor: Actor, reference: string, signature: string, now = new Date()): Promise<WorkAnswer> {
  return atWork(actor, "release-pack", reference, now, async (tx, loaded, order) => {
    const retest = await readRetestOf(tx, loaded, order, now);
    const why = whyNotReleased(releaseFacts(order, retest), actor.userId, signature);
    if (why !== null) return refused("signature", why.why, why.sentence);
    if (loaded.standing.known.outgoingIsStopped === true)
      return refused("signature", "pack-stopped", moveRefusals["pack-stopped"]);
    await tx.packRelease.create({
      data: {
        returnId: loaded.row.id,
        decisionId: order.decisionId,
        signature: signature.trim(),
        resultIds: (retest?.standings ?? []).flatMap(({ test, state }) =>
          test.isRetest && state.kind === "done" ? [state.resultId] : [],
        ),
        byUserId: actor.userId,
        byName: actor.name,
        at: now,
      },
      select: { id: true },
    });
    return { ok: true };
  });
}

export interface WorkOrder {
  readonly decisionId: string;
  readonly isInWork: boolean;
  readonly isReleased: boolean;
  /** Work that stands, oldest first. */
  readonly entries: readonly { readonly id: string; readonly byUserId: string; readonly at: Date }[];
}

/** The work under the decision that stands; null where nothing is decided. */
export async function readWorkOrder(tx: Transaction, { row, standing }: LoadedStanding): Promise<WorkOrder | null> {
  const { decisionId } = await tx.return.findUniqueOrThrow({ where: { id: row.id }, select: { decisionId: true } });
  if (decisionId === null) return null;
  const entries = await tx.workEntry.findMany({
    where: { decisionId, struck: null },
    select: { id: true, byUserId: true, at: true },
    orderBy: [{ at: "asc" }, { id: "asc" }],
  });
  const release = await tx.packRelease.findUnique({ where: { decisionId }, select: { id: true } });
  return {
    decisionId,
    isInWork: standing.status === "work-in-progress" && standing.decidedRemedy === "repair",
    isReleased: release !== null,
    entries,
  };
}

/** The re-test of a pack as far as the work under the decision that stands asks for it. */
export function readRetestOf(
  tx: Transaction,
  loaded: LoadedStanding,
  order: WorkOrder,
  now: Date,
): Promise<Retest | null> {
  return readRetest(tx, loaded, order.entries.at(-1)?.at ?? null, now);
}

export function releaseFacts(order: WorkOrder, retest: Retest | null): ReleaseFacts {
  return {
    isInWork: order.isInWork,
    isReleased: order.isReleased,
    workerIds: [...new Set(order.entries.map(({ byUserId }) => byUserId))],
    retest: retest?.standing ?? null,
  };
}

async function workFacts(
  tx: Transaction,
  { row, standing }: LoadedStanding,
  order: WorkOrder,
  entry: WorkEntry,
  part: { readonly bookedIn: number; readonly used: number; readonly stop: string | null } | null,
): Promise<WorkFacts> {
  const { revision } = await tx.pack.findUniqueOrThrow({
    where: { id: row.packId },
    select: { revision: { select: { potted: true, cellsRepairable: true, model: { select: { seriesCount: true } } } } },
  });
  return {
    isInWork: order.isInWork,
    isReleased: order.isReleased,
    isSetApart: isSetApart(standing.safety),
    isOnHold: standing.isOnHold,
    packIsHere: atTheWorks.includes(standing.custody),
    groupCount: revision.model.seriesCount,
    isPotted: revision.potted,
    cellsRepairable: revision.cellsRepairable,
    part: part === null ? null : { left: part.bookedIn - part.used, stop: part.stop },
    identityIsTaken: entry.identity !== undefined && (await isTaken(tx, row.packId, entry.identity)),
  };
}

async function isTaken(tx: Transaction, packId: string, identity: string): Promise<boolean> {
  const built = await tx.buildRecord.count({ where: { boardIdentity: identity, packId: { not: packId } } });
  const fitted = await tx.workEntry.count({ where: { identity, struck: null, packId: { not: packId } } });
  return built + fitted > 0;
}

async function atWork(
  actor: Actor,
  act: "work-on-pack" | "release-pack",
  typedReference: string,
  now: Date,
  run: (tx: Transaction, loaded: LoadedStanding, order: WorkOrder) => Promise<WorkAnswer>,
): Promise<WorkAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, act)) return notFound;
  try {
    return await asActor(actor, async (tx) => {
      const found = await tx.return.findUnique({ where: { reference: reading.reference }, select: { packId: true } });
      if (found === null) return notFound;
      await lockPack(tx, found.packId);
      const loaded = await loadStanding(tx, reading.reference, now);
      const order = loaded === null ? null : await readWorkOrder(tx, loaded);
      if (loaded === null || order === null) return notFound;
      return run(tx, loaded, order);
    });
  } catch (error) {
    if (breaksUnique(error, "WorkStrike_pkey", "PackRelease_decisionId_key"))
      return refused("form", "someone-changed-this", "Somebody was faster. Look at it as it is now.");
    throw error;
  }
}

function refused(field: string, reason: string, sentence: string): WorkAnswer {
  return { ok: false, field, reason, sentence };
}
