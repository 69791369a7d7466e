import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type LetGoRefusal, type LetGoRequest, letGoRefusals, whyNotLetGo } from "@/lib/packs/let-pack-go";
import { sayStop } from "@/lib/packs/stock-pack";
import { readReturnReference } from "@/lib/returns/return-reference";
import { asActor } from "./database";
import { readStopsOfReturned } from "./outgoing-stop";
import { lockPack } from "./track-rows";

/** What holds the pack of a return back, and who let it go. */
export interface HeldBackView {
  readonly stops: readonly string[];
  /** The keys of the same stops, for the form. */
  readonly seenStops: readonly string[];
  /** Why this person does not let it go whatever they write; null where they may. */
  readonly whyNot: string | null;
  readonly letGo: readonly { readonly why: string; readonly byName: string; readonly at: Date }[];
}

/** Null where nothing holds the pack back and nobody ever let it go, or the return is not this person's to see. */
export async function readHeldBackPack(actor: Actor, reference: string): Promise<HeldBackView | null> {
  if (!may(actor, "read-build-record")) return null;
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({
      where: { reference },
      select: { id: true, letGo: { select: { why: true, byName: true, at: true }, orderBy: { at: "asc" } } },
    });
    if (row === null) return null;
    const stops = await readStopsOfReturned(tx, row.id);
    if (stops.length === 0 && row.letGo.length === 0) return null;
    const seenStops = stops.map(({ key }) => key);
    const why = whyNotLetGo(actor, stops, { why: "whatever they write", seenStops });
    return { stops: stops.map(sayStop), seenStops, whyNot: why === null ? null : letGoRefusals[why], letGo: row.letGo };
  });
}

export type LetGoAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: LetGoRefusal | "not-found"; readonly sentence: string };

const notFound: LetGoAnswer = { ok: false, reason: "not-found", sentence: "There is no such return for you." };

/**
 * Lets the pack of one return go although it lies under a stop: by a named person of the safety side who did not hold it back,
 * with a reason. A stop that comes later holds it back again.
 */
export function letPackGo(
  actor: Actor,
  typedReference: string,
  request: LetGoRequest,
  now = new Date(),
): Promise<LetGoAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "read-build-record")) return Promise.resolve(notFound);
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({
      where: { reference: reading.reference },
      select: { id: true, packId: true },
    });
    if (row === null) return notFound;
    await lockPack(tx, row.packId);
    const stops = await readStopsOfReturned(tx, row.id);
    const why = whyNotLetGo(actor, stops, request);
    if (why !== null) return { ok: false, reason: why, sentence: letGoRefusals[why] };
    await tx.packLetGo.createMany({
      data: [
        {
          returnId: row.id,
          stops: stops.map(({ key }) => key),
          why: request.why.trim(),
          at: now,
          byUserId: actor.userId,
          byName: actor.name,
          byRole: actor.role,
        },
      ],
    });
    return { ok: true };
  });
}
