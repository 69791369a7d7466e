import "server-only";
import type { Actor } from "@/lib/access/actor";
import { type EmergencyLookWish, isLookRunning, spanOfLook } from "@/lib/access/emergency-look";
import { may } from "@/lib/access/may";
import { readReturnReference } from "@/lib/returns/return-reference";
import type { Prisma } from "@/prisma/generated/client";
import { asSystem } from "../database";
import { queueNotice } from "../notices/notices";
import { shownSerial } from "../packs/pack-words";

export type OpenLookAnswer =
  | { readonly ok: true; readonly reference: string; readonly endsAt: Date }
  | { readonly ok: false; readonly reason: "not-allowed" | "not-found"; readonly sentence: string };

/**
 * Opens a look at one return. As the system, because an administrator sees no return; the entry and the word to the managers lie
 * in the same transaction, so that no look is without either.
 */
export function openEmergencyLook(
  actor: Actor,
  { reference: typed, reason }: EmergencyLookWish,
  now = new Date(),
): Promise<OpenLookAnswer> {
  return asSystem(async (tx) => {
    if (!may(actor, "look-in-emergency"))
      return {
        ok: false,
        reason: "not-allowed",
        sentence: "Only the administrator, who sees no case, looks this way.",
      };
    const reading = readReturnReference(typed);
    const found =
      reading.kind === "reference"
        ? await tx.return.findUnique({ where: { reference: reading.reference }, select: { id: true, reference: true } })
        : null;
    if (found === null) return { ok: false, reason: "not-found", sentence: "There is no return with this reference." };
    const { id: returnId, reference } = found;
    const span = spanOfLook(now);
    const { id } = await tx.emergencyLook.create({
      data: { returnId, reason, openedByUserId: actor.userId, openedByName: actor.name, ...span },
      select: { id: true },
    });
    const about = { reference, returnId, occasion: `look ${id}` };
    await queueNotice(tx, { ...about, kind: "emergency-look", to: { role: "manager" } });
    return { ok: true, reference, endsAt: span.endsAt };
  });
}

export interface LookEntry {
  readonly id: string;
  readonly reference: string;
  readonly reason: string;
  readonly openedByName: string;
  readonly openedAt: Date;
  readonly endsAt: Date;
  readonly isRunning: boolean;
  readonly isOwn: boolean;
  /** When the return was shown under it. */
  readonly shownAt: readonly Date[];
}

/** So many stand on the page. Engineering default, no authority. */
const MOST_SHOWN = 100;

/** Looks of administrators, the latest first; an administrator reads the own ones. Null for whoever is not in charge of that. */
export function listEmergencyLooks(actor: Actor, now = new Date()): Promise<readonly LookEntry[] | null> {
  if (!may(actor, "read-emergency-looks")) return Promise.resolve(null);
  // As the system: the reference belongs to a return that an administrator does not see.
  return asSystem(async (tx) => {
    const rows = await tx.emergencyLook.findMany({
      where: may(actor, "look-in-emergency") ? { openedByUserId: actor.userId } : {},
      orderBy: { openedAt: "desc" },
      take: MOST_SHOWN,
      select: {
        id: true,
        reason: true,
        openedByUserId: true,
        openedByName: true,
        openedAt: true,
        endsAt: true,
        return: { select: { reference: true } },
        pages: { orderBy: { shownAt: "asc" }, select: { shownAt: true } },
      },
    });
    return rows.map(({ return: { reference }, pages, openedByUserId, ...row }) => ({
      ...row,
      reference,
      isRunning: isLookRunning(row, now),
      isOwn: openedByUserId === actor.userId,
      shownAt: pages.map(({ shownAt }) => shownAt),
    }));
  });
}

/** What is shown of a case: how it stands and what was done. No customer, no readings, no build record, no money. */
const shownOfCase = {
  id: true,
  reference: true,
  status: true,
  version: true,
  turn: true,
  dueAt: true,
  lodgedAt: true,
  takenByName: true,
  dealer: { select: { name: true, town: true } },
  pack: {
    select: {
      serial: true,
      tracks: { where: { track: { in: ["custody", "safety", "hold"] } }, select: { track: true, state: true } },
    },
  },
  tracks: { where: { track: "remedy" }, select: { track: true, state: true } },
  moves: {
    orderBy: { sequence: "asc" },
    select: { sequence: true, at: true, actorName: true, actorRole: true, to: true, reason: true },
  },
} as const satisfies Prisma.ReturnSelect;

type ShownCase = Omit<Prisma.ReturnGetPayload<{ select: typeof shownOfCase }>, "id" | "pack" | "tracks">;

export interface CaseUnderLook extends ShownCase {
  readonly serialShown: string;
  readonly tracks: readonly { readonly track: string; readonly state: string }[];
  readonly endsAt: Date;
  readonly reason: string;
}

/** The return while an own look at it runs, with an entry that it was shown; null otherwise, as for a return that is not there. */
export function readCaseUnderLook(
  actor: Actor,
  typedReference: string,
  now = new Date(),
): Promise<CaseUnderLook | null> {
  const reading = readReturnReference(typedReference);
  if (!may(actor, "look-in-emergency") || reading.kind !== "reference") return Promise.resolve(null);
  return asSystem(async (tx) => {
    const look = await tx.emergencyLook.findFirst({
      where: { openedByUserId: actor.userId, endsAt: { gt: now }, return: { reference: reading.reference } },
      orderBy: { endsAt: "desc" },
      select: { id: true, reason: true, openedAt: true, endsAt: true, return: { select: shownOfCase } },
    });
    if (look === null || !isLookRunning(look, now)) return null;
    await tx.emergencyLookPage.create({ data: { lookId: look.id, shownAt: now }, select: { id: true } });
    const { id: _id, pack, tracks, ...shown } = look.return;
    return {
      ...shown,
      serialShown: shownSerial(pack.serial),
      tracks: [...pack.tracks, ...tracks],
      endsAt: look.endsAt,
      reason: look.reason,
    };
  });
}
