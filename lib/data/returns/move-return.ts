import "server-only";
import { type Actor, isProgram, program } from "@/lib/access/actor";
import { moveCustody, recordPlace } from "@/lib/returns/custody-track";
import type { MoveName } from "@/lib/returns/move-names";
import { type MoveRefusal, moveRefusals } from "@/lib/returns/move-refusal";
import type { KnownFacts } from "@/lib/returns/return-facts";
import { type MoveRequest, moveReturn } from "@/lib/returns/return-moves";
import { readReturnReference } from "@/lib/returns/return-reference";
import { saysWhereItIs } from "@/lib/returns/where-moves-lead";
import { asActor, asSystem, type Transaction } from "../database";
import { readSuggestionThatStands } from "../readings/suggestion-that-stands";
import { readWhatIsUnseen } from "../transport/unseen-facts";
import { breaksUnique, writtenMeanwhile } from "../unique-violation";
import { appendMove } from "./history";
import { takeRemedyAlong } from "./look-anew";
import { type CarriedMove, carryMove, factsOf, type SavedMove } from "./move-effects";
import { tellDealer } from "./move-notices";
import { type LoadedStanding, loadStanding } from "./return-standing";
import { lockPack, recordCustody } from "./track-rows";

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
  const told = await readWhatIsUnseen(request.name, reading.reference, now);
  return answering(() => asActor(actor, (tx) => makeMoveIn(tx, actor, reading.reference, request, now, told)));
}

/**
 * The same inside a transaction that writes more than the move; `Refused` leaves it, so that nothing of it stays. `told` is
 * what the person may not read but the move has to know.
 */
export async function makeMoveIn(
  tx: Transaction,
  actor: Actor,
  reference: string,
  request: MoveRequest,
  now: Date,
  told: Partial<KnownFacts> = {},
): Promise<MoveAnswer> {
  const loaded = await loadLocked(tx, reference, now, told);
  if (loaded === null) return notFound;
  const outcome = moveReturn(actor, loaded.standing, request);
  if (outcome.kind === "refused") return refusal(outcome.why, outcome.sentence);
  await save(tx, { actor, loaded, request, outcome, now });
  return { ok: true, version: outcome.version };
}

/**
 * Makes the move that time asks for, if it still does once nobody else can move the pack; null where it does not. As the
 * system, because the program acts for every dealer. Two rounds at once: the second finds nothing left to do.
 */
export async function makeDueMoveAsSystem(
  reference: string,
  due: (loaded: LoadedStanding) => Omit<MoveRequest, "seenVersion"> | null,
  now: Date,
): Promise<MoveAnswer | null> {
  const run = async (tx: Transaction): Promise<MoveAnswer | null> => {
    const loaded = await loadLocked(tx, reference, now);
    const asked = loaded === null ? null : due(loaded);
    if (loaded === null || asked === null) return null;
    const request = { ...asked, seenVersion: loaded.row.version };
    const outcome = moveReturn(program, loaded.standing, request);
    if (outcome.kind === "refused") return refusal(outcome.why, outcome.sentence);
    await save(tx, { actor: program, loaded, request, outcome, now });
    return { ok: true, version: outcome.version };
  };
  return answering(() => asSystem(run));
}

async function loadLocked(
  tx: Transaction,
  reference: string,
  now: Date,
  told: Partial<KnownFacts> = {},
): Promise<LoadedStanding | null> {
  const found = await tx.return.findUnique({ where: { reference }, select: { packId: true } });
  if (found === null) return null;
  await lockPack(tx, found.packId);
  return loadStanding(tx, reference, now, told);
}

/** What the transaction of a move ends with, as an answer: refused, or come too late. */
async function answering<Answer>(run: () => Promise<Answer>): Promise<Answer | MoveAnswer> {
  try {
    return await run();
  } catch (error) {
    const answer = refusedMove(error);
    if (answer === null) throw error;
    return answer;
  }
}

/** The answer behind what a move threw to leave its transaction; null where it was no refusal. */
export function refusedMove(error: unknown): MoveAnswer | null {
  if (error instanceof Refused) return error.answer;
  if (breaksUnique(error, ...writtenMeanwhile, "UnitReservation_one_open_per_return")) return changedMeanwhile;
  if (breaksUnique(error, "UnitReservation_one_open_per_pack")) return unitTaken;
  if (breaksUnique(error, "Return_one_open_per_pack")) return otherIsOpen;
  return null;
}

const otherIsOpen = refusal("not-from-here", "Another return of this pack is open: go on there, or close it first.");

async function save(tx: Transaction, move: CarriedMove): Promise<void> {
  const { loaded, outcome, request, actor, now } = move;
  const { row } = loaded;
  // As it stood when it was decided: what is found later leaves it as it was.
  const suggested = settlesRemedy.includes(request.name) ? await suggestedThen(tx, row.id) : {};
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
  if (!(await takeRemedyAlong(tx, move))) throw new Refused(changedMeanwhile);
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
    facts: { ...factsOf(request), ...suggested },
  });
  await tellDealer(tx, move, carried.columns.dueAt instanceof Date ? carried.columns.dueAt : null);
}

/** Moves that propose or decide a remedy. */
const settlesRemedy: readonly MoveName[] = ["propose", "approve", "approve-as-second", "solve-remotely"];

/** What was suggested at that moment, for the history; nothing where nothing was. */
async function suggestedThen(tx: Transaction, returnId: string) {
  const { suggestion } = await readSuggestionThatStands(tx, returnId);
  if (suggestion === null) return {};
  const { remedy, reasons, ruleVersion } = suggestion;
  return { suggested: { remedy, reasons: [...reasons], ruleVersion } };
}

/** The pack goes along: handed to the carrier, received, put on the bench. What shuts its way shuts the move. */
async function movePack(tx: Transaction, { actor, loaded, request, outcome, now }: CarriedMove): Promise<void> {
  const { row, tracks, standing } = loaded;
  // Time moves no pack: every move with a way for the pack is a person's.
  if (outcome.custodyTo === null || isProgram(actor)) return;
  const { custody } = tracks;
  const here = {
    ...custody,
    safety: standing.safety,
    isOnHold: standing.isOnHold,
    decidedRemedy: standing.decidedRemedy,
    customerAgreed: false,
  };
  const asked = { to: outcome.custodyTo, reason: "Went along with the return.", seenVersion: custody.version };
  const step = saysWhereItIs.includes(request.name) ? recordPlace(here, asked) : moveCustody(actor, here, asked);
  if (step.kind === "refused") throw new Refused({ ok: false, reason: "pack-stays", sentence: step.sentence });
  const isRecorded = await recordCustody(tx, actor, { packId: row.packId, returnId: row.id, custody }, step, {
    reason: asked.reason,
    at: now,
    zone: row.dealer.timeZone,
  });
  if (!isRecorded) throw new Refused(changedMeanwhile);
}

const unitTaken: MoveAnswer = {
  ok: false,
  reason: "is-kept-for-another",
  sentence: "Somebody kept this pack for another return a moment ago. Take another.",
};

function refusal(reason: MoveRefusal, sentence: string): MoveAnswer {
  return { ok: false, reason, sentence };
}
