import "server-only";
import type { Actor } from "@/lib/access/actor";
import { moveCustody } from "@/lib/returns/custody-track";
import { type MoveRefusal, moveRefusals } from "@/lib/returns/move-refusal";
import { type MoveRequest, moveReturn } from "@/lib/returns/return-moves";
import { readReturnReference } from "@/lib/returns/return-reference";
import { asActor, type Transaction } from "./database";
import { appendMove } from "./history";
import { type CarriedMove, carryMove, factsOf, type SavedMove } from "./move-effects";
import { tellDealer } from "./move-notices";
import { loadStanding } from "./return-standing";
import { lockPack, openTrack, recordStep } from "./track-rows";
import { breaksUnique } from "./unique-violation";

export type MoveAnswer =
  | { readonly ok: true; readonly version: number }
  | {
      readonly ok: false;
      readonly reason: MoveRefusal | SavedMove["reason"] | "not-found" | "pack-stays";
      readonly sentence: string;
    };

const notFound: MoveAnswer = { ok: false, reason: "not-found", sentence: "There is no such return for you." };

const changedMeanwhile = refusal("someone-changed-this", moveRefusals["someone-changed-this"]);

/** Thrown inside the transaction so that nothing of a refused move stays; caught below and given as an answer. */
class Refused extends Error {
  readonly answer: MoveAnswer;
  constructor(answer: MoveAnswer) {
    super("the move was refused");
    this.answer = answer;
  }
}

/**
 * Makes a move of a return, or says why not: load, decide, save in one transaction, with the version in the WHERE, a
 * row of history, and the move of the pack where one belongs to it. Two who move at once: one is heard, one is told.
 */
export async function makeMove(
  actor: Actor,
  typedReference: string,
  request: MoveRequest,
  now = new Date(),
): Promise<MoveAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return notFound;
  try {
    return await asActor(actor, async (tx) => {
      const found = await tx.return.findUnique({
        where: { reference: reading.reference },
        select: { packId: true },
      });
      if (found === null) return notFound;
      await lockPack(tx, found.packId);
      const loaded = await loadStanding(tx, reading.reference, now);
      if (loaded === null) return notFound;
      const outcome = moveReturn(actor, loaded.standing, request);
      if (outcome.kind === "refused") return refusal(outcome.why, outcome.sentence);
      await save(tx, { actor, loaded, request, outcome, now });
      return { ok: true, version: outcome.version };
    });
  } catch (error) {
    if (error instanceof Refused) return error.answer;
    if (breaksUnique(error, "sequence") || breaksUnique(error, "Track")) return changedMeanwhile;
    if (breaksUnique(error, "Return_one_open_per_pack") || breaksUnique(error, "packId")) return otherIsOpen;
    throw error;
  }
}

const otherIsOpen = refusal("not-from-here", "Another return of this pack is open: go on there, or close it first.");

async function save(tx: Transaction, move: CarriedMove): Promise<void> {
  const { loaded, outcome, request, actor, now } = move;
  const { row } = loaded;
  const carried = await carryMove(tx, move);
  if (carried.kind === "refused") throw new Refused({ ok: false, reason: carried.reason, sentence: carried.sentence });
  const { count } = await tx.return.updateMany({
    where: { id: row.id, version: row.version, status: row.status },
    data: { status: outcome.to, version: outcome.version, ...carried.columns },
  });
  // Somebody else's transaction came between the read and the write.
  if (count !== 1) throw new Refused(changedMeanwhile);
  await carried.afterwards();
  await movePack(tx, move);
  await appendMove(tx, actor, {
    returnId: row.id,
    move: request.name,
    from: outcome.from,
    to: outcome.to,
    reason: request.reason,
    dataVersion: outcome.version,
    ruleVersion: loaded.settingsVersion,
    at: now,
    zone: row.dealer.timeZone,
    facts: factsOf(request),
  });
  await tellDealer(tx, move, carried.columns.dueAt instanceof Date ? carried.columns.dueAt : null);
}

/** The pack goes along: handed to the carrier, received, put on the bench. What shuts its way shuts the move. */
async function movePack(tx: Transaction, { actor, loaded, outcome, now }: CarriedMove): Promise<void> {
  const { row, tracks, standing } = loaded;
  if (outcome.custodyTo === null) return;
  const { custody } = tracks;
  const step = moveCustody(
    actor,
    {
      ...custody,
      safety: standing.safety,
      isOnHold: standing.isOnHold,
      isDecided: standing.decidedRemedy !== null,
    },
    { to: outcome.custodyTo, reason: "Went along with the return.", seenVersion: custody.version },
  );
  if (step.kind === "refused") throw new Refused({ ok: false, reason: "pack-stays", sentence: step.sentence });
  const trackId = custody.id ?? (await openTrack(tx, actor, { track: "custody", packId: row.packId }, custody.state));
  const { from, to, version } = step;
  const isRecorded = await recordStep(tx, actor, trackId, {
    from,
    to,
    version,
    reason: "Went along with the return.",
    at: now,
    zone: row.dealer.timeZone,
    returnId: row.id,
    facts: {},
  });
  if (!isRecorded) throw new Refused(changedMeanwhile);
}

function refusal(reason: MoveRefusal, sentence: string): MoveAnswer {
  return { ok: false, reason, sentence };
}
