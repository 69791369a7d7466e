import type { Mover } from "@/lib/access/actor";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { classRefusal, hasSendingEnded } from "./class-refusal";
import { atTheWorks, outOfReach } from "./custody-track";
import { type DecidableRemedy, type Decision, remediesOffered } from "./decision.schema";
import type { MoveRefusal } from "./move-refusal";
import type { StatedFacts } from "./return-facts";
import { isNotOver, isWithinDays } from "./return-settings.schema";
import type { ReturnStanding } from "./return-standing";
import type { ReturnStatus } from "./return-status";
import { isSetApart } from "./safety-track";
import { whyNotSolvedByOne } from "./second-person";
import { lastDayToReopen } from "./told-periods";

export interface GuardedMove {
  readonly actor: Mover;
  readonly standing: ReturnStanding;
  readonly stated: StatedFacts;
  /** What is decided; with the moves that propose or record a decision only. */
  readonly decision: Decision | null;
}

/** A condition of a move: null where it is met, else the reason why not. */
export type Guard = (move: GuardedMove) => MoveRefusal | null;

export const unless = (met: boolean, why: MoveRefusal) => (met ? null : why);

/** What another part of the program knows outranks what is stated; a fact that nobody keeps has to be stated. */
function isTrue(known: boolean | null, stated: boolean | undefined): boolean {
  return known ?? stated === true;
}

// Safety and hold --------------------------------------------------------------------------------------------------

export const packIsNotSetApart: Guard = ({ standing: { safety, known } }) =>
  unless(!isSetApart(safety) && !known.isHeldUnseen, "safety-open");

/** Evidence is not destroyed: a hold stops it, and so do an open incident and a flag. What a specialist fetched is gone already, and recorded. */
const mayBeDestroyed: Guard = (move) =>
  move.standing.custody === "specialist" ? null : move.standing.isOnHold ? "on-hold" : packIsNotSetApart(move);

/** Remedies that give the pack back, or give it away, without anyone having made it safe. */
const leavesTheHouseAsItIs: readonly DecidableRemedy[] = ["return-as-is", "remote-fix", "refuse", "redirect"];

export const remedyFitsSafety: Guard = ({ standing, decision }) => {
  if (decision === null) return "remedy-missing";
  if (standing.isOnHold && decision.remedy === "dispose") return "on-hold";
  return unless(!(isSetApart(standing.safety) && leavesTheHouseAsItIs.includes(decision.remedy)), "safety-open");
};

/** The same once more at the approval: the flag may have been raised since it was proposed. */
export const proposalFitsSafety: Guard = ({ actor, standing, stated }) =>
  remedyFitsSafety({ actor, standing, stated, decision: standing.past.proposal?.decision ?? null });

// Questions and help ----------------------------------------------------------------------------------------------

/** By today at the earliest: a day that is over would be one that nobody could keep. */
export const dueDayIsGiven: Guard = ({ standing, stated }) => {
  if (stated.dueOn === undefined) return "due-missing";
  return unless(stated.dueOn >= todayAtTheDealer(standing), "due-in-the-past");
};

const todayAtTheDealer = ({ now, timeZone }: ReturnStanding) => civilDateAt(now, timeZone);

/** The day for the answer is over where the dealer is. */
export function isAnswerOverdue(standing: ReturnStanding): boolean {
  const { question } = standing.past;
  return question !== null && question.dueOn < todayAtTheDealer(standing);
}

export const dealerWasReminded: Guard = ({ standing }) => {
  const { question } = standing.past;
  const wasReminded = (question?.reminders ?? 0) >= standing.settings.remindersBeforeLapse;
  return unless(isAnswerOverdue(standing) && wasReminded, "reminders-left");
};

export const lapseIsNotProposed: Guard = ({ standing }) =>
  unless((standing.past.question?.lapseProposedAt ?? null) === null, "not-from-here");

export const logIsThereOrAskedFor: Guard = ({ standing, stated }) =>
  unless(standing.known.hasReadings || stated.logWasAskedFor === true, "log-missing");

export const dealerConfirmed: Guard = ({ standing }) => unless(standing.past.helpConfirmed, "dealer-has-not-confirmed");

export const solvedLately: Guard = ({ standing: { past, told, now, timeZone } }) =>
  unless(isNotOver(lastDayToReopen(past, told, timeZone), now, timeZone), "too-late");

// Sending and receiving ---------------------------------------------------------------------------------------------

/** A named person declared the class, on the page of transport and nowhere else, under the rules that are still in force. */
export const classIsDeclared: Guard = ({ standing: { known } }) => classRefusal(known);

export const labelIsPrinted: Guard = ({ standing }) => unless(standing.known.labelPrinted, "label-missing");

export const isPackedAsTold: Guard = ({ standing }) => unless(standing.known.packedAsTold, "not-packed");

export const arrivalIsRecorded: Guard = ({ standing }) => unless(standing.known.hasArrived, "arrival-missing");

export const wasAnotherPack: Guard = ({ standing }) => unless(standing.known.wasAnotherPack, "mismatch-open");

export const sendingIsOpen: Guard = ({ standing: { known, now } }) =>
  unless(!hasSendingEnded(known, now), "sending-ended");

export const sendingHasEnded: Guard = ({ standing: { known, now } }) =>
  unless(known.sendingEndsAt === null || new Date(known.sendingEndsAt) < now, "sending-still-open");

export const lapsedBeforeSending: Guard = ({ standing }) =>
  unless(standing.past.lapsedFrom === "return-approved", "not-from-here");

export const lapsedUnanswered: Guard = ({ standing }) =>
  unless(standing.past.askedBeforeLapse !== null, "not-from-here");

export const identityIsScanned: Guard = ({ standing, stated }) => {
  if (stated.scannedSerial === undefined) return "scan-missing";
  return unless(stated.scannedSerial === standing.serial || stated.mismatchNote !== undefined, "wrong-pack");
};

export const quarantineIsOver: Guard = ({ standing, stated }) =>
  unless(isTrue(standing.known.quarantineMet, stated.quarantineMet), "quarantine-not-met");

export const packIsHere: Guard = ({ standing }) => unless(atTheWorks.includes(standing.custody), "pack-not-here");

// Decision ----------------------------------------------------------------------------------------------------------

/** Statuses at which somebody reviews the return, or has the pack in hand. */
const lookedAt: readonly (ReturnStatus | null)[] = ["in-review", "under-test", "work-in-progress"];

function isTested({ status, custody }: ReturnStanding): boolean {
  return status === "under-test" && atTheWorks.includes(custody);
}

/** The dealer said that the help from a distance solved it. */
export function isSolvedThere({ status, past }: Pick<ReturnStanding, "status" | "past">): boolean {
  return status === "remote-help" && past.helpConfirmed;
}

/** What a proposal of it would need a second person for, one person does not record as solved on the dealer's word alone. */
export const onePersonIsEnough: Guard = ({ standing: { weighed, settings }, decision }) =>
  unless(decision === null || whyNotSolvedByOne(decision, weighed, settings).length === 0, "needs-two");

export const remedyNeedsNoLook: Guard = ({ standing, decision }) => {
  const isLookedAt = lookedAt.includes(standing.status) && (standing.status !== "under-test" || isTested(standing));
  const offered = remediesOffered(true, isSolvedThere(standing));
  return unless(isLookedAt || (decision !== null && offered.includes(decision.remedy)), "look-first");
};

/** On log and photographs alone there is nothing to have tested; from the bench the tests are done or waived with a reason. */
export const testsAreDone: Guard = ({ standing, stated }) => {
  if (!isTested(standing) || standing.known.tests === "done" || standing.known.tests === "waived") {
    return null;
  }
  if (standing.known.tests === "open") return "tests-open";
  return unless(
    stated.tests === "done" || (stated.tests === "waived" && stated.testsWaivedBecause !== undefined),
    "tests-open",
  );
};

/** From the bench only: whoever decides on log and photographs alone has found nothing with the hands. */
export const faultIsCoded: Guard = ({ standing }) =>
  unless(!isTested(standing) || standing.known.faultCoding !== "missing", "coding-missing");

/** "No fault found" is a finding like any other, wherever it is proposed from: it has to be looked for. */
export const noFaultIsTried: Guard = ({ standing, decision }) => {
  const { faultCoding, noFaultProtocol } = standing.known;
  const codedSo = standing.status === "under-test" && faultCoding === "set-nothing-found";
  if (decision?.confirmedFault !== "no-fault-found" && !codedSo) return null;
  if (noFaultProtocol === "showed") return "no-fault-showed";
  return unless(noFaultProtocol !== "open", "no-fault-untried");
};

export const isNoFormerReviewer: Guard = ({ actor, standing }) =>
  unless(!standing.past.formerReviewerIds.includes(actor.userId), "former-reviewer");

export const isNotTheProposer: Guard = ({ actor, standing }) =>
  unless(standing.past.proposal?.proposedByUserId !== actor.userId, "own-proposal");

/** Also whoever took the call and began the form that the dealer then sent. */
export const isNotTheLodger: Guard = ({ actor, standing: { past } }) =>
  unless(past.lodgedByUserId !== actor.userId && past.begunByUserId !== actor.userId, "own-return");

/**
 * The service lead gives the first approval; a manager does where the lead proposed, and where a decision was objected to, in
 * which the lead of a small house had a part.
 */
export const isLeadOrStandsInForOne: Guard = ({ actor, standing: { past } }) =>
  unless(
    actor.role === "service-lead" ||
      past.proposal?.proposedByRole === "service-lead" ||
      past.formerReviewerIds.length > 0,
    "first-approval-missing",
  );

export const firstIsApproved: Guard = ({ standing }) =>
  unless((standing.past.proposal?.firstApprovalByUserId ?? null) !== null, "first-approval-missing");

export const isNotApprovedYet: Guard = ({ standing }) =>
  unless((standing.past.proposal?.firstApprovalByUserId ?? null) === null, "same-approver");

export const isNotTheFirstApprover: Guard = ({ actor, standing }) =>
  unless(standing.past.proposal?.firstApprovalByUserId !== actor.userId, "same-approver");

export const secondIsNeeded: Guard = ({ standing }) => unless(standing.secondPerson.length > 0, "no-second-needed");

export const noticesAreGiven: Guard = ({ standing, stated }) =>
  unless(isTrue(standing.known.noticesGiven, stated.noticesGiven), "notices-missing");

// Work and handing back ---------------------------------------------------------------------------------------------

const needsWork: readonly DecidableRemedy[] = ["repair", "replace", "dispose"];

export const workIsDecided: Guard = ({ standing }) =>
  unless(standing.decidedRemedy !== null && needsWork.includes(standing.decidedRemedy), "work-not-needed");

export const noWorkIsDecided: Guard = ({ standing: { decidedRemedy } }) =>
  unless(decidedRemedy !== null && !needsWork.includes(decidedRemedy) && decidedRemedy !== "isolate", "work-needed");

/**
 * A repair happens to the pack itself, and that has to be here; a replacement goes out wherever the old one lies; a
 * disposal may be made where the pack is, by those who fetch it.
 */
export const workCanBegin: Guard = (move) => {
  const { standing, stated } = move;
  if (standing.decidedRemedy === "replace") {
    if ((standing.known.reservedSerial ?? stated.reservedSerial) === undefined) return "unit-missing";
    return outgoingIsNotStopped(move);
  }
  if (stated.partsAndPlan === undefined) return "plan-missing";
  if (standing.isOnHold && standing.decidedRemedy === "repair") return "on-hold";
  if (standing.decidedRemedy !== "dispose") return packIsHere(move);
  const isThere = standing.custody === "specialist" || !outOfReach.includes(standing.custody);
  return mayBeDestroyed(move) ?? unless(isThere, "pack-out-of-reach");
};

export const isKnownSafe: Guard = ({ standing, stated }) =>
  unless(standing.decidedRemedy === "refund" || stated.packIsSafe === true, "not-known-safe");

/** A repaired pack has its release on record, which no statement replaces; a replacement was released when it was built. */
export const isReleased: Guard = ({ standing, stated }) => {
  if (standing.decidedRemedy === "repair") return unless(standing.known.isReleased === true, "limits-not-passed");
  return unless(stated.releaseSignature !== undefined, "signature-missing");
};

/** A refund is begun on the remedy track before the return is ready: agreed with the customer, then paid by finance. */
export const refundIsAgreed: Guard = ({ standing: { decidedRemedy, known } }) =>
  unless(decidedRemedy !== "refund" || known.refundIsAgreed, "refund-not-agreed");

/** The unit that goes out is scanned, and it is the pack itself or the one kept for it; with a refund or a disposal none does. */
export const outgoingIsScanned: Guard = ({ standing, stated }) => {
  const { decidedRemedy, known, serial } = standing;
  if (decidedRemedy === "refund" || decidedRemedy === "dispose") return null;
  if (decidedRemedy === "replace" && known.reservedSerial === null) return "unit-missing";
  if (stated.outgoingSerial === undefined) return "scan-missing";
  return unless(stated.outgoingSerial === (decidedRemedy === "replace" ? known.reservedSerial : serial), "wrong-unit");
};

export const outgoingIsNotStopped: Guard = ({ standing }) =>
  unless(standing.known.outgoingIsStopped !== true, "unit-stopped");

/** Put right where it is, a pack is ridden again at once: no hand-over comes at which it could still be kept back. */
export const solvedPackIsSafe: Guard = (move) =>
  remedyFitsSafety(move) ?? unless(move.standing.known.outgoingIsStopped !== true, "pack-stopped");

/** With a replacement another pack goes out; with a refund or a disposal none. */
export function packItselfGoesOut(remedy: DecidableRemedy | null): boolean {
  return remedy !== "replace" && remedy !== "refund" && remedy !== "dispose";
}

/**
 * Giving a pack back that is set apart is never in order, nor one that still lies in quarantine unfollowed or is held back with
 * its like, nor is destroying what is held; what goes out in its place may.
 */
export const whatGoesOutIsSafe: Guard = (move) => {
  const { decidedRemedy, custody, known } = move.standing;
  if (decidedRemedy === "dispose") return mayBeDestroyed(move);
  if (!packItselfGoesOut(decidedRemedy)) return null;
  const isFollowed = custody !== "quarantine" || known.quarantineMet !== false;
  const isHeldBack = known.outgoingIsStopped === true;
  return packIsNotSetApart(move) ?? unless(isFollowed, "quarantine-not-met") ?? unless(!isHeldBack, "pack-stopped");
};

/** Evidence is given to nobody: a pack that lies here under a hold leaves once a manager has lifted it. */
export const heldPackStays: Guard = ({ standing: { isOnHold, decidedRemedy, custody } }) =>
  unless(!(isOnHold && packItselfGoesOut(decidedRemedy) && atTheWorks.includes(custody)), "on-hold");

export const remedyIsDelivered: Guard = ({ standing, stated }) =>
  unless(isTrue(standing.known.remedyDelivered, stated.remedyDelivered), "remedy-not-delivered");

export const moneyIsSettled: Guard = ({ standing, stated }) =>
  unless(isTrue(standing.known.moneySettled, stated.moneySettled), "money-open");

export const waitedAfterHandingBack: Guard = ({ standing: { past, settings, now } }) =>
  unless(
    past.handedBackAt !== null && !isWithinDays(new Date(past.handedBackAt), settings.closeAfterDays, now),
    "too-early",
  );

export const duplicateIsNamed: Guard = ({ standing, stated }) =>
  unless(stated.duplicateOf !== undefined && stated.duplicateOf !== standing.reference, "duplicate-missing");
