import * as guard from "./case-guards";
import type { CaseMove } from "./case-move";
import { afterDecision, beforeDecision, proposable } from "./case-stages";
import * as given from "./given-guards";
import type { MoveName } from "./move-names";
import * as objection from "./objection-guards";
import * as place from "./place-guards";
import { proofMoves } from "./proof-moves";
import * as refusal from "./refusal-guards";
import { sendingMoves } from "./sending-moves";

/**
 * The one table of the moves of a return: the life of a case in the trade (common practice, no single source). Whatever
 * is not here cannot happen; a correction is a new move, never an edit.
 */
export const caseMoves: Readonly<Record<MoveName, CaseMove>> = {
  draft: { from: [null], to: "draft", act: "lodge-return", orAct: "lodge-on-behalf", needsReason: false, guards: [] },
  lodge: {
    from: [null, "draft"],
    to: "sent-in",
    act: "lodge-return",
    orAct: "lodge-on-behalf",
    needsReason: false,
    guards: [],
  },
  take: { from: ["sent-in"], to: "in-review", act: "take-return", needsReason: false, guards: [], takes: true },
  "take-over": {
    from: ["in-review"],
    to: "in-review",
    act: "take-return",
    needsReason: true,
    guards: [guard.isNoFormerReviewer],
    clock: "runs-on",
    takes: true,
  },
  ask: {
    from: beforeDecision,
    to: "more-information-needed",
    act: "ask-dealer",
    needsReason: true,
    guards: [guard.dueDayIsGiven],
    clock: "pauses",
  },
  remind: {
    from: ["more-information-needed"],
    to: "more-information-needed",
    act: "ask-dealer",
    needsReason: false,
    guards: [],
    byTime: true,
    clock: "runs-on",
  },
  answer: {
    from: ["more-information-needed"],
    to: null,
    act: "answer-question",
    needsReason: true,
    guards: [],
    clock: "resumes",
  },
  ...proofMoves,
  "propose-lapse": {
    from: ["more-information-needed"],
    to: "more-information-needed",
    act: null,
    needsReason: false,
    guards: [guard.packIsNotSetApart, guard.dealerWasReminded, guard.lapseIsNotProposed, place.packIsNotWithUs],
    byTime: true,
    turn: "maker",
    clock: "runs-on",
  },
  "lapse-unanswered": {
    from: ["more-information-needed"],
    to: "lapsed",
    act: "lapse-return",
    needsReason: true,
    guards: [guard.packIsNotSetApart, guard.dealerWasReminded, place.packIsNotWithUs, given.nothingIsOut],
  },
  // A late answer is an answer: nobody has to tell the whole complaint anew.
  "take-up-again": {
    from: ["lapsed"],
    to: null,
    act: "answer-question",
    needsReason: true,
    guards: [guard.lapsedUnanswered],
  },
  help: {
    from: ["in-review"],
    to: "remote-help",
    act: "help-remotely",
    needsReason: true,
    guards: [guard.packIsNotSetApart, guard.logIsThereOrAskedFor],
  },
  "confirm-help": {
    from: ["remote-help"],
    to: "remote-help",
    act: "confirm-at-counter",
    needsReason: true,
    guards: [guard.packIsNotSetApart],
    // What helped is recorded by service.
    turn: "maker",
    clock: "runs-on",
  },
  "solve-remotely": {
    from: ["remote-help"],
    to: "solved-remotely",
    act: "help-remotely",
    needsReason: true,
    // What is put right at the dealer's is a repair, so the customer is told of the choice before it.
    guards: [
      guard.dealerConfirmed,
      guard.isNotTheLodger,
      guard.solvedPackIsSafe,
      guard.noFaultIsTried,
      guard.noticesAreGiven,
      // What was put right at the dealer's is there, and it ends the return like any other end.
      place.packIsNotWithUs,
      place.packIsWithThem,
      given.nothingIsOut,
      guard.onePersonIsEnough,
    ],
  },
  "reopen-solved": {
    from: ["solved-remotely"],
    to: "in-review",
    act: "object-to-decision",
    needsReason: true,
    guards: [guard.solvedLately],
  },
  ...sendingMoves,
  propose: {
    from: proposable,
    to: "decision-proposed",
    act: "propose-decision",
    needsReason: true,
    guards: [
      guard.isNoFormerReviewer,
      guard.remedyFitsSafety,
      guard.remedyNeedsNoLook,
      refusal.refusalRestsOnSomething,
      guard.testsAreDone,
      guard.faultIsCoded,
      guard.noFaultIsTried,
      given.refundFitsWhatWasPaid,
      given.givenBeforeIsSaid,
    ],
    takes: true,
  },
  approve: {
    from: ["decision-proposed"],
    to: null,
    act: "approve-decision",
    // A manager gives the first approval only where the lead proposed, so that a small house is not stuck.
    orAct: "approve-as-second",
    needsReason: false,
    guards: [
      guard.isLeadOrStandsInForOne,
      guard.isNotTheLodger,
      guard.isNotTheProposer,
      guard.isNoFormerReviewer,
      guard.isNotApprovedYet,
      guard.proposalFitsSafety,
      guard.noticesAreGiven,
    ],
  },
  "approve-as-second": {
    from: ["decision-proposed"],
    to: "decided",
    act: "approve-as-second",
    needsReason: true,
    guards: [
      guard.secondIsNeeded,
      guard.isNotTheLodger,
      guard.isNotTheProposer,
      // Proposed and approved first by people who had no part in what was objected to, it may be agreed to by one who had: else a
      // house of one lead and two managers could uphold no refusal.
      guard.firstIsApproved,
      guard.isNotTheFirstApprover,
      guard.proposalFitsSafety,
    ],
  },
  "send-back": {
    from: ["decision-proposed"],
    to: null,
    act: "approve-decision",
    orAct: "approve-as-second",
    needsReason: true,
    guards: [guard.isNotTheProposer],
  },
  veto: { from: ["decision-proposed"], to: null, act: "veto-decision", needsReason: true, guards: [] },
  "start-work": {
    from: ["decided"],
    to: "work-in-progress",
    act: "work-on-pack",
    needsReason: false,
    guards: [guard.workIsDecided, guard.workCanBegin],
  },
  "ready-without-work": {
    from: ["decided"],
    to: "ready-to-hand-back",
    act: "work-on-pack",
    needsReason: false,
    guards: [guard.noWorkIsDecided, guard.whatGoesOutIsSafe, guard.isKnownSafe, guard.refundIsAgreed],
  },
  "finish-work": {
    from: ["work-in-progress"],
    to: "ready-to-hand-back",
    act: "release-pack",
    needsReason: true,
    guards: [guard.whatGoesOutIsSafe, guard.outgoingIsNotStopped, guard.isReleased, place.disposalThereIsRecorded],
  },
  // From here the time to object runs: before it the customer could not know.
  "give-letter": {
    from: ["decided", "work-in-progress", "ready-to-hand-back", "handed-back"],
    to: null,
    act: "confirm-at-counter",
    orAct: "work-on-pack",
    needsReason: false,
    guards: [objection.letterIsNotGiven, objection.letterDayIsGiven],
  },
  "hand-back": {
    from: ["ready-to-hand-back"],
    to: "handed-back",
    act: "confirm-at-counter",
    orAct: "work-on-pack",
    needsReason: false,
    guards: [
      guard.whatGoesOutIsSafe,
      guard.heldPackStays,
      guard.outgoingIsNotStopped,
      guard.outgoingIsScanned,
      place.outgoingMayTravel,
      place.deliveryIsProven,
    ],
  },
  close: {
    from: ["handed-back"],
    to: "closed",
    act: "close-return",
    needsReason: false,
    guards: [
      guard.waitedAfterHandingBack,
      guard.remedyIsDelivered,
      given.loanIsBack,
      given.unitIsBack,
      guard.moneyIsSettled,
      given.nothingIsAwaitedBack,
    ],
    byTime: true,
  },
  object: {
    from: afterDecision,
    to: "in-review",
    act: "object-to-decision",
    needsReason: true,
    guards: [objection.objectionIsInTime],
  },
  reopen: {
    from: ["closed", "decided", "ready-to-hand-back"],
    to: "in-review",
    act: "reopen-return",
    needsReason: true,
    guards: [place.decisionCannotGoOn],
  },
  merge: {
    from: ["sent-in", "in-review"],
    to: "merged",
    act: "merge-returns",
    needsReason: true,
    guards: [guard.packIsNotSetApart, guard.duplicateIsNamed, place.packIsNotWithUs],
  },
  withdraw: {
    from: ["draft", "sent-in", "more-information-needed", "in-review", "remote-help", "return-approved"],
    to: "withdrawn",
    act: "withdraw-return",
    needsReason: true,
    // A pack that showed a danger sign is not forgotten because somebody takes the complaint back.
    guards: [guard.packIsNotSetApart, place.packIsNotWithUs, given.nothingIsOut],
  },
};
