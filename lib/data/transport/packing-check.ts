import "server-only";
import type { Actor } from "@/lib/access/actor";
import { type PhotoView, packedViews } from "@/lib/receiving/pack-faces";
import type { Leg } from "@/lib/transport/leg";
import { mayPack } from "@/lib/transport/who-packs";
import type { Transaction } from "../database";
import { asActor } from "../database";
import { type PhotoCard, photoCard, photoSelect } from "../packs/pack-photos";
import { breaksUnique } from "../unique-violation";
import { isToBePacked, readTransport } from "./transport";

/** What has been done of the packing of a pack, under the class that stands. */
export interface Packing {
  readonly check: { readonly checkedByName: string; readonly checkedAt: Date } | null;
  readonly photos: readonly PhotoCard[];
  readonly missingViews: readonly PhotoView[];
}

const nothingPacked: Packing = { check: null, photos: [], missingViews: packedViews };

/** What was ticked and photographed under one declaration, on the way it is for; nothing where no class counts. */
export async function readPacking(tx: Transaction, declarationId: string | null): Promise<Packing> {
  if (declarationId === null) return nothingPacked;
  const check = await tx.packingCheck.findUnique({
    where: { declarationId },
    select: { checkedByName: true, checkedAt: true },
  });
  const photos = await tx.packPhoto.findMany({
    where: { declarationId },
    select: photoSelect,
    orderBy: { takenAt: "asc" },
  });
  const missingViews = packedViews.filter((view) => !photos.some((photo) => photo.view === view));
  return { check, photos: photos.map(photoCard), missingViews };
}

export function isPackedAsTold({ check, missingViews }: Packing): boolean {
  return check !== null && missingViews.length === 0;
}

/** The packing of one return as its dealer and the house see it; null where the return is not theirs. */
export async function readPackingOf(
  actor: Actor,
  reference: string,
  leg: Leg = "to-maker",
  now = new Date(),
): Promise<Packing | null> {
  const transport = await readTransport(actor, reference, now, leg);
  return transport === null ? null : asActor(actor, (tx) => readPacking(tx, transport.declaration?.id ?? null));
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
  if (!mayPack(actor, leg)) return refuse("Whoever packs ticks the checklist.");
  const transport = await readTransport(actor, reference, now, leg);
  if (transport === null) return refuse("There is no such return for you.");
  const { declaration, orders, declarations } = transport;
  if (declaration === null || !isToBePacked(transport) || orders?.kind !== "pack")
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
    if (breaksUnique(error, "PackingCheck_pkey")) return refuse("The checklist was ticked already.");
    throw error;
  }
}
