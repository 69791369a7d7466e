import "server-only";
import type { Mover } from "@/lib/access/actor";
import type { UnitRefusal } from "@/lib/packs/replacement-unit";
import { caseMoves } from "@/lib/returns/case-moves";
import { countsAsFailure } from "@/lib/returns/counts-as-failure";
import type { Decision } from "@/lib/returns/decision.schema";
import type { JoinRefusal } from "@/lib/returns/join-returns";
import { endOfDay } from "@/lib/returns/local-instant";
import type { MoveOutcome, MoveRequest } from "@/lib/returns/return-moves";
import { dueAt } from "@/lib/returns/return-settings.schema";
import type { ReturnPast } from "@/lib/returns/return-standing";
import { whoseTurn } from "@/lib/returns/return-turn";
import { MINUTE_MS } from "@/lib/warranty/clock-spans";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Prisma } from "@/prisma/generated/client";
import { toDateColumn, toOptionalDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";
import { checkReturnedPack } from "../packs/revision-checks";
import { awaitingColumns, dayOf, orderWithDecision } from "../remedies/comes-back";
import { endReservation, keepUnit } from "../remedies/keep-unit";
import { judgeUnit, readKeptUnit } from "../remedies/replacement-units";
import { readUnitPlace, recordUnitPlace } from "../remedies/unit-custody";
import { giveLeaveWithApproval } from "../transport/declare-transport";
import { findJoined } from "./find-joined";
import { readTurnWhenReady } from "./ready-turn";
import type { LoadedStanding } from "./return-standing";

export interface CarriedMove {
  readonly actor: Mover;
  readonly loaded: LoadedStanding;
  readonly request: MoveRequest;
  readonly outcome: Extract<MoveOutcome, { kind: "moved" }>;
  readonly now: Date;
}

export interface SavedMove {
  readonly kind: "refused";
  readonly reason: "revision-may-not-replace" | UnitRefusal | JoinRefusal;
  readonly sentence: string;
}

interface Carried {
  readonly kind: "carried";
  /** Columns of the return that change with the move, besides status and version. */
  readonly columns: Prisma.ReturnUncheckedUpdateManyInput;
  /** Rows that follow, written once the return itself has moved. */
  readonly afterwards: () => Promise<void>;
}

/** Whose turn it is. Readings that the dealer was helped to make are the desk's to look at. */
function turnColumn({ request, outcome, actor }: CarriedMove) {
  const toTheDesk = request.name === "add-readings" && outcome.to === "remote-help" && actor.dealerId !== null;
  const { turn } = caseMoves[request.name];
  if (toTheDesk || turn === "maker") return { turn: "maker" };
  return turn === "stays" ? {} : { turn: whoseTurn(outcome.to) };
}

/** Who has it in hand: whoever takes it, and nobody where it comes back to the desk, unless it was only away for an answer. */
function takerColumns({ request, outcome, actor }: CarriedMove) {
  const { takes, turn } = caseMoves[request.name];
  if (takes === true) return { takenByName: actor.name, takenByUserId: actor.userId };
  const isLaidDown = outcome.to === "in-review" && outcome.from !== "more-information-needed" && turn !== "stays";
  return isLaidDown ? { takenByName: null, takenByUserId: null } : {};
}

/** What a move changes besides the status: whose turn it is and until when, the decision, the chain of packs. */
export async function carryMove(tx: Transaction, move: CarriedMove): Promise<Carried | SavedMove> {
  const { loaded, request, outcome, actor } = move;
  const { row, standing } = loaded;
  const { past } = standing;
  const columns = {
    ...turnColumn(move),
    ...(outcome.to === "ready-to-hand-back" && caseMoves[request.name].turn !== "stays"
      ? { turn: await readTurnWhenReady(tx, row.id) }
      : {}),
    ...clockColumns(move),
    ...takerColumns(move),
  };
  const carried = (more: Prisma.ReturnUncheckedUpdateManyInput, afterwards: Carried["afterwards"]): Carried => ({
    kind: "carried",
    columns: { ...columns, ...more },
    afterwards,
  });
  const nothingElse = async () => {};
  switch (request.name) {
    case "propose":
    case "approve":
    case "approve-as-second":
    case "solve-remotely": {
      const decision = request.decision ?? past.proposal?.decision ?? null;
      if (decision === null) return carried({}, nothingElse);
      const revision = await readReplacementRevision(tx, loaded, decision);
      if (revision.kind === "refused") return revision;
      const isDecided = outcome.to === "decided" || outcome.to === "solved-remotely";
      return carried({}, isDecided ? () => writeDecision(tx, move, decision, revision.revisionId) : nothingElse);
    }
    case "approve-return":
    case "renew-approval":
      return carried({}, () => giveLeaveWithApproval(tx, actor, row.reference, move.now));
    case "start-work":
      return standing.decidedRemedy === "replace" ? keepReplacement(tx, move, carried) : carried({}, nothingElse);
    case "hand-back": {
      if (standing.decidedRemedy !== "replace") return carried({}, nothingElse);
      const kept = await readKeptUnit(tx, row.id);
      if (kept === null) throw new RangeError(`${row.reference}: handed back without a pack kept for it`);
      return carried({}, async () => {
        await linkChain(tx, move, kept.packId);
        await endReservation(tx, actor, kept.reservationId, { ending: "handed-over", because: null, now: move.now });
        if ((await readUnitPlace(tx, kept.packId)) === null) return;
        const said = { reason: "Handed over with its return.", at: move.now, zone: row.dealer.timeZone };
        await recordUnitPlace(tx, actor, { packId: kept.packId, returnId: row.id, to: "with-dealer", said });
      });
    }
    case "merge": {
      const other = await findJoined(tx, request.stated?.duplicateOf ?? "", row);
      return other.kind === "refused" ? other : carried({ mergedIntoId: other.id }, nothingElse);
    }
    default:
      return carried({}, nothingElse);
  }
}

/** What is kept in the history besides the reason. */
export function factsOf({ stated, decision }: MoveRequest): Prisma.InputJsonObject {
  return {
    ...(stated === undefined ? {} : { stated: { ...stated } }),
    ...(decision === undefined ? {} : { decision: { ...decision } }),
  };
}

/** The due date and the paused clock: a question stops the maker's time, the answer lets it run on with what was left. */
function clockColumns({ loaded, request, outcome, now }: CarriedMove) {
  const { row, standing } = loaded;
  const { clock } = caseMoves[request.name];
  if (clock === "runs-on") return {};
  if (clock === "pauses") {
    const left = row.dueAt === null ? null : Math.round((row.dueAt.getTime() - now.getTime()) / MINUTE_MS);
    return { pausedMinutesLeft: left, dueAt: endOfDay(request.stated?.dueOn ?? "", row.dealer.timeZone) };
  }
  if (clock === "resumes") {
    const left = row.pausedMinutesLeft;
    return { pausedMinutesLeft: null, dueAt: left === null ? null : new Date(now.getTime() + left * MINUTE_MS) };
  }
  const awaited = dayOf(standing.known.awaitedBackBy ?? undefined);
  if (outcome.to === "handed-back" && awaited !== null)
    return { pausedMinutesLeft: null, ...awaitingColumns(awaited, row.dealer.timeZone) };
  const timeOf = clock === "of-the-desk" ? "in-review" : outcome.to;
  return { pausedMinutesLeft: null, dueAt: dueAt(timeOf, now, standing.settings) };
}

async function writeDecision(
  tx: Transaction,
  { actor, loaded, request, outcome, now }: CarriedMove,
  decision: Decision,
  revisionId: string | null,
): Promise<void> {
  const { row, standing } = loaded;
  const { remedy, confirmedFault, reason, seenVersion } = decision;
  await tx.decision.create({
    data: {
      returnId: row.id,
      remedy,
      confirmedFault,
      confirmedFailure: countsAsFailure(confirmedFault),
      reason,
      replacementRevisionId: revisionId,
      suggestionId: row.readingFile?.suggestion?.id ?? null,
      refundMinor: decision.refundMinor ?? null,
      refundCurrency: decision.refundMinor === undefined ? null : (decision.refundCurrency ?? null),
      isGoodwill: decision.isGoodwill ?? false,
      refusalTerm: decision.refusalTerm ?? null,
      refusalEvidence: decision.refusalEvidence ?? null,
      refusalAlternatives: decision.refusalAlternatives ?? null,
      comesBack: decision.comesBack ?? null,
      comesBackWhat: decision.comesBackWhat ?? null,
      comesBackBy: toOptionalDateColumn(dayOf(decision.comesBackBy)),
      seenVersion: outcome.to === "solved-remotely" ? request.seenVersion : seenVersion,
      ...peopleOf(actor, request.name === "approve-as-second", standing.past.proposal),
      decidedAt: now,
    },
    select: { id: true },
  });
  await orderWithDecision(tx, actor, row, decision, now);
}

function peopleOf(actor: Mover, isSecond: boolean, proposal: ReturnPast["proposal"]) {
  const proposed = {
    proposedByUserId: proposal?.proposedByUserId ?? null,
    proposedByName: proposal?.proposedByName ?? null,
  };
  if (!isSecond || proposal === null) {
    return { ...proposed, decidedByUserId: actor.userId, decidedByName: actor.name };
  }
  return {
    ...proposed,
    decidedByUserId: proposal.firstApprovalByUserId ?? actor.userId,
    decidedByName: proposal.firstApprovalByName ?? actor.name,
    secondByUserId: actor.userId,
    secondByName: actor.name,
  };
}

type ReadRevision = { readonly kind: "read"; readonly revisionId: string | null } | SavedMove;

async function readReplacementRevision(
  tx: Transaction,
  loaded: LoadedStanding,
  decision: Decision,
): Promise<ReadRevision> {
  const code = decision.replacementRevisionCode;
  if (code === undefined) return { kind: "read", revisionId: null };
  const option = await optionFor(tx, loaded, code);
  const revision = option === null ? null : await tx.revision.findUnique({ where: { code }, select: { id: true } });
  if (revision !== null) return { kind: "read", revisionId: revision.id };
  const sentence = `${code} may not replace this pack today. Choose one of the revisions offered.`;
  return { kind: "refused", reason: "revision-may-not-replace", sentence };
}

async function optionFor(tx: Transaction, { row }: LoadedStanding, code: string) {
  const { replacement } = await checkReturnedPack(tx, {
    packId: row.packId,
    revisionCode: row.pack.revision.code,
    lotCodes: row.pack.lots.map(({ lot }) => lot.code),
    findings: row.readingFile?.findings ?? [],
  });
  if (replacement.kind !== "may-replace") return null;
  return replacement.options.find(({ revisionCode }) => revisionCode === code) ?? null;
}

/** The pack that goes out instead is kept for this return from now on, unless one was kept before: it is judged once more. */
async function keepReplacement(
  tx: Transaction,
  { actor, loaded, request, now }: CarriedMove,
  carried: (more: Prisma.ReturnUncheckedUpdateManyInput, afterwards: Carried["afterwards"]) => Carried,
): Promise<Carried | SavedMove> {
  const { row, standing } = loaded;
  const kept = standing.known.reservedSerial;
  const judged = await judgeUnit(tx, row, kept ?? request.stated?.reservedSerial ?? "");
  if (judged.kind === "refused") return { kind: "refused", reason: judged.why, sentence: judged.sentence };
  return carried({}, async () => {
    if (kept === null) await keepUnit(tx, actor, { returnId: row.id, packId: judged.unit.packId, now });
  });
}

/** Names the pack of the return; the database writes the chain from the last pack of it, which the customer holds. */
async function linkChain(tx: Transaction, { loaded, request, now }: CarriedMove, newPackId: string): Promise<void> {
  // Confirmed by the dealer it is of today; by a carrier, of the day on the carrier's paper.
  const proven = dayOf(request.stated?.deliveredOn);
  const deliveredOn = toDateColumn(proven ?? civilDateAt(now, loaded.row.dealer.timeZone));
  await tx.replacement.createMany({ data: [{ oldPackId: loaded.row.packId, newPackId, deliveredOn }] });
}
