import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import {
  type LetGoKind,
  type LetGoRefusal,
  type LetGoRequest,
  letGoKinds,
  letGoRefusals,
  whyNotHeldAgain,
  whyNotLetGo,
} from "@/lib/packs/let-pack-go";
import { sayStop } from "@/lib/packs/stock-pack";
import { readReturnReference } from "@/lib/returns/return-reference";
import { asActor, type Transaction } from "../database";
import { lockPack } from "../returns/track-rows";
import { readStopsAndAnswers, type StopsAndAnswers } from "./outgoing-stop";

/** What holds the pack of a return back, and who let it go. */
export interface HeldBackView {
  readonly stops: readonly string[];
  /** The keys of the same stops, for the form. */
  readonly seenStops: readonly string[];
  /** Why this person does not let it go whatever they write; null where they may. */
  readonly whyNot: string | null;
  /** Every word on it, the oldest first. */
  readonly words: readonly {
    readonly kind: LetGoKind;
    readonly why: string;
    readonly byName: string;
    readonly at: Date;
  }[];
  /** Stops from which it was let go under the decision that stands, a sentence each. */
  readonly letGo: readonly string[];
  readonly mayHoldAgain: boolean;
}

/** Null where nothing holds the pack back and nobody ever let it go, or the return is not this person's to see. */
export async function readHeldBackPack(actor: Actor, reference: string): Promise<HeldBackView | null> {
  if (!may(actor, "read-build-record")) return null;
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({
      where: { reference },
      select: {
        id: true,
        letGo: { select: { kind: true, why: true, byName: true, at: true }, orderBy: [{ at: "asc" }, { id: "asc" }] },
      },
    });
    if (row === null) return null;
    const { stops, letGo } = await readStopsAndAnswers(tx, row.id);
    if (stops.length === 0 && row.letGo.length === 0) return null;
    const seenStops = stops.map(({ key }) => key);
    const why = whyNotLetGo(actor, stops, { why: "whatever they write", seenStops });
    return {
      stops: stops.map(sayStop),
      seenStops,
      whyNot: why === null ? null : letGoRefusals[why],
      words: row.letGo.map((word) => ({ ...word, kind: readLetGoKind(word.kind) })),
      letGo: letGo.map(sayStop),
      mayHoldAgain: letGo.length > 0 && may(actor, "stop-ship"),
    };
  });
}

function readLetGoKind(stored: string): LetGoKind {
  const kind = letGoKinds.find((known) => known === stored);
  if (kind === undefined) throw new RangeError(`word on a stop: ${stored} is unknown`);
  return kind;
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
  reference: string,
  request: LetGoRequest,
  now = new Date(),
): Promise<LetGoAnswer> {
  return sayOfStops(actor, reference, now, ({ stops }) => ({
    kind: "let-go",
    about: stops.map(({ key }) => key),
    reason: request.why,
    refused: whyNotLetGo(actor, stops, request),
  }));
}

/** Holds a pack back again that was let go, from every stop that still lies on it; by anyone of the safety side. */
export function holdPackAgain(actor: Actor, reference: string, reason: string, now = new Date()): Promise<LetGoAnswer> {
  return sayOfStops(actor, reference, now, ({ letGo }) => {
    const about = letGo.map(({ key }) => key);
    return { kind: "held-again", about, reason, refused: whyNotHeldAgain(actor, about, reason) };
  });
}

interface Word {
  readonly kind: LetGoKind;
  /** The keys of the stops it is about. */
  readonly about: string[];
  readonly reason: string;
  readonly refused: LetGoRefusal | null;
}

function sayOfStops(
  actor: Actor,
  typedReference: string,
  now: Date,
  decide: (standing: StopsAndAnswers) => Word,
): Promise<LetGoAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "read-build-record")) return Promise.resolve(notFound);
  return asActor(actor, async (tx: Transaction) => {
    const row = await tx.return.findUnique({
      where: { reference: reading.reference },
      select: { id: true, packId: true, decisionId: true },
    });
    if (row === null) return notFound;
    await lockPack(tx, row.packId);
    const { kind, about, reason, refused } = decide(await readStopsAndAnswers(tx, row.id));
    if (refused !== null) return { ok: false, reason: refused, sentence: letGoRefusals[refused] };
    await tx.packLetGo.createMany({
      data: [
        {
          returnId: row.id,
          kind,
          decisionId: row.decisionId,
          stops: about,
          why: reason.trim(),
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
