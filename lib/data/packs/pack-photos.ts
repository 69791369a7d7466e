import "server-only";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { dealersViews, type PhotoView, packedViews, photoViews, toldViews } from "@/lib/receiving/pack-faces";
import { judgeLegibility, type Legibility } from "@/lib/receiving/photo-legibility";
import { caseMoves } from "@/lib/returns/case-moves";
import { undecided } from "@/lib/returns/case-stages";
import { readReturnReference } from "@/lib/returns/return-reference";
import type { Leg } from "@/lib/transport/leg";
import { mayPack } from "@/lib/transport/who-packs";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { asActor } from "../database";
import { queueNotice } from "../notices/notices";
import { isToBePacked, readTransport } from "../transport/transport";
import { webStream } from "../web-stream";
import { cleanPhoto, MAX_PHOTO_BYTES } from "./photo-cleaning";
import { keepPhoto, readPhotoBytes } from "./photo-store";

export interface PhotoCard {
  readonly id: string;
  readonly view: string;
  readonly takenAt: Date;
  readonly takenByName: string;
  readonly originalSha256: string;
  readonly legibility: Legibility;
}

export type KeptPhoto =
  | { readonly ok: true; readonly photo: PhotoCard }
  | { readonly ok: false; readonly sentence: string };

/** The bench takes every view, the dealer those of the complaint and a proof of sale; a packed box is photographed by those who pack it for that way. */
export function mayTake(actor: Actor, view: string, leg: Leg): boolean {
  if (showsPackedBox(view)) return mayPack(actor, leg);
  return may(actor, "receive-pack") || (may(actor, "confirm-at-counter") && dealersViews.some((one) => one === view));
}

const showsPackedBox = (view: string) => packedViews.some((one) => one === view);

/**
 * Takes a photograph of a returned pack: cleans it, keeps the clean bytes and the SHA-256 of the original. Only the
 * bench takes and sees them, because they can show a workshop, a person, or a plate; those of the complaint, of the packed
 * box and of a proof of sale are its dealer's too (policy). One of a packed box belongs to the class it was packed under, and
 * to no other way.
 */
export async function keepPackPhoto(
  actor: Actor,
  typedReference: string,
  view: string,
  original: Uint8Array,
  { now = new Date(), leg = "to-maker" }: { readonly now?: Date; readonly leg?: Leg } = {},
): Promise<KeptPhoto> {
  const reading = readReturnReference(typedReference);
  const known = photoViews.find((name) => name === view);
  if (reading.kind !== "reference" || !mayTake(actor, view, leg)) {
    return { ok: false, sentence: "There is no such return for you." };
  }
  if (known === undefined) return { ok: false, sentence: "Say which side of the pack this shows." };
  if (original.byteLength > MAX_PHOTO_BYTES) {
    return { ok: false, sentence: "This is larger than 25 MB. Take it again with a smaller picture size." };
  }
  const { reference } = reading;
  const row = await asActor(actor, (tx) =>
    tx.return.findUnique({
      where: { reference },
      select: { id: true, status: true, dealer: { select: { timeZone: true } } },
    }),
  );
  if (row === null) return { ok: false, sentence: "There is no such return for you." };
  if (known === "proof-of-sale" && !caseMoves["prove-sale"].from.some((status) => status === row.status)) {
    return {
      ok: false,
      sentence: "This return is not open, so nobody can read a proof on it. Have it opened again, or lodge a new one.",
    };
  }
  const isOfComplaint = toldViews.some((told) => told === known);
  if (isOfComplaint && !undecided.some((status) => status === row.status)) {
    return { ok: false, sentence: "It is decided already. Object to the decision, then add the photograph." };
  }
  const declarationId = showsPackedBox(view) ? await readDeclarationToPack(actor, reference, leg, now) : null;
  if (showsPackedBox(view) && declarationId === null)
    return { ok: false, sentence: "This pack may not be sent now, so its box is not photographed." };
  const clean = await cleanPhoto(original);
  if (clean.kind === "refused") return { ok: false, sentence: clean.sentence };
  const { originalSha256, widthPixels, heightPixels, sharpness } = clean;
  const keptSha256 = await keepPhoto(clean.jpeg);
  const photo = await asActor(actor, async (tx) => {
    const kept = await tx.packPhoto.create({
      data: {
        returnId: row.id,
        view: known,
        originalSha256,
        keptSha256,
        widthPixels,
        heightPixels,
        sharpness,
        takenByUserId: actor.userId,
        takenByName: actor.name,
        takenAt: now,
        declarationId,
      },
      select: photoSelect,
    });
    // A proof that a dealer sends waits for somebody of the house to read it, who is told once a day.
    if (known === "proof-of-sale" && actor.dealerId !== null) {
      const told = { reference, returnId: row.id, occasion: `day ${civilDateAt(now, row.dealer.timeZone)}` };
      await queueNotice(tx, { kind: "proof-sent", ...told, to: { role: "service-lead" } });
    }
    return kept;
  });
  return { ok: true, photo: photoCard(photo) };
}

/** The class a pack is packed under now; null while it may not be sent along this way. */
async function readDeclarationToPack(actor: Actor, reference: string, leg: Leg, now: Date): Promise<string | null> {
  const transport = await readTransport(actor, reference, now, leg);
  return transport === null || !isToBePacked(transport) ? null : (transport.declaration?.id ?? null);
}

export const photoSelect = {
  id: true,
  view: true,
  takenAt: true,
  takenByName: true,
  originalSha256: true,
  widthPixels: true,
  heightPixels: true,
  sharpness: true,
} as const;

export function photoCard(row: {
  readonly id: string;
  readonly view: PhotoView | string;
  readonly takenAt: Date;
  readonly takenByName: string;
  readonly originalSha256: string;
  readonly widthPixels: number;
  readonly heightPixels: number;
  readonly sharpness: number;
}): PhotoCard {
  const { id, view, takenAt, takenByName, originalSha256 } = row;
  const legibility = judgeLegibility(row.widthPixels, row.heightPixels, row.sharpness);
  return { id, view, takenAt, takenByName, originalSha256, legibility };
}

/** The clean bytes of one photograph; null where there is none or the person may not see it. */
export async function openPackPhoto(actor: Actor, photoId: string): Promise<ReadableStream<Uint8Array> | null> {
  if (!may(actor, "read-build-record") && !may(actor, "read-own-returns")) return null;
  if (!z.uuid().safeParse(photoId).success) return null;
  const row = await asActor(actor, (tx) =>
    tx.packPhoto.findUnique({ where: { id: photoId }, select: { keptSha256: true } }),
  );
  return row === null ? null : webStream(readPhotoBytes(row.keptSha256));
}
