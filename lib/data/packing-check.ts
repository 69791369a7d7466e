import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type PhotoView, packedViews } from "@/lib/receiving/pack-faces";
import type { Leg } from "@/lib/transport/leg";
import type { Transaction } from "./database";
import { asActor } from "./database";
import { type PhotoCard, photoCard, photoSelect } from "./pack-photos";
import { readTransport } from "./transport";
import { breaksUnique } from "./unique-violation";

/** What has been done of the packing of a pack, under the class that stands. */
export interface Packing {
  readonly check: { readonly checkedByName: string; readonly checkedAt: Date } | null;
  readonly photos: readonly PhotoCard[];
  readonly missingViews: readonly PhotoView[];
}

const nothingPacked: Packing = { check: null, photos: [], missingViews: packedViews };

/** A class declared anew is packed anew: ticks and photographs from before it do not count. */
export async function readPacking(tx: Transaction, returnId: string, leg: Leg = "to-maker"): Promise<Packing> {
  const last = await tx.classDeclaration.findFirst({
    where: { returnId, leg },
    orderBy: { sequence: "desc" },
    select: { declaredAt: true, packingCheck: { select: { checkedByName: true, checkedAt: true } } },
  });
  if (last === null) return nothingPacked;
  const photos = await tx.packPhoto.findMany({
    where: { returnId, view: { in: [...packedViews] }, takenAt: { gte: last.declaredAt } },
    select: photoSelect,
    orderBy: { takenAt: "asc" },
  });
  const missingViews = packedViews.filter((view) => !photos.some((photo) => photo.view === view));
  return { check: last.packingCheck, photos: photos.map(photoCard), missingViews };
}

export function isPackedAsTold({ check, missingViews }: Packing): boolean {
  return check !== null && missingViews.length === 0;
}

/** The packing of one return as its dealer and the house see it; null where the return is not theirs. */
export function readPackingOf(actor: Actor, reference: string, leg: Leg = "to-maker"): Promise<Packing | null> {
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({ where: { reference }, select: { id: true } });
    return row === null ? null : readPacking(tx, row.id, leg);
  });
}

export type PackingAnswer = { readonly ok: true } | { readonly ok: false; readonly sentence: string };

const refuse = (sentence: string): PackingAnswer => ({ ok: false, sentence });

/**
 * Records that somebody went through the checklist, every point of it, once for each declaration. `ticked` are the numbers of
 * the points as the page showed them, `seenDeclarations` the class they belonged to.
 */
export async function recordPackingCheck(
  actor: Actor,
  reference: string,
  {
    ticked,
    seenDeclarations,
    leg = "to-maker",
  }: { readonly ticked: readonly number[]; readonly seenDeclarations: number; readonly leg?: Leg },
  now = new Date(),
): Promise<PackingAnswer> {
  // On the way to us the dealer packs, on the ways out the bench.
  if (!may(actor, leg === "to-maker" ? "confirm-at-counter" : "work-on-pack"))
    return refuse("Whoever packs ticks the checklist.");
  const transport = await readTransport(actor, reference, now, leg);
  if (transport === null) return refuse("There is no such return for you.");
  const { declaration, sending, orders, declarations } = transport;
  if (declaration === null || sending.kind !== "may-send" || orders?.kind !== "pack")
    return refuse("This pack may not be sent now, so it is not packed.");
  if (declarations !== seenDeclarations)
    return refuse("The class was declared anew meanwhile. Pack it as it says now.");
  const points = orders.checklist.map(({ text }) => text);
  const open = points.findIndex((_point, index) => !ticked.includes(index));
  if (open >= 0) return refuse(`Point ${open + 1} is not ticked: ${points[open] ?? ""}`);
  try {
    await asActor(actor, (tx) =>
      tx.packingCheck.create({
        data: {
          declarationId: declaration.id,
          points,
          checkedByUserId: actor.userId,
          checkedByName: actor.name,
          checkedAt: now,
        },
      }),
    );
    return { ok: true };
  } catch (error) {
    if (breaksUnique(error, "declarationId") || breaksUnique(error, "PackingCheck_pkey"))
      return refuse("The checklist was ticked already.");
    throw error;
  }
}
