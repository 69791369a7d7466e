import { expect, test } from "vitest";
import { mintActor, type Role } from "@/lib/access/actor";
import { type Decision, decidableRemedies, remediesOffered } from "@/lib/returns/decision.schema";
import type { MoveName } from "@/lib/returns/move-names";
import type { MoveRefusal } from "@/lib/returns/move-refusal";
import type { StatedFacts } from "@/lib/returns/return-facts";
import { nothingKnown } from "@/lib/returns/return-facts";
import { moveReturn } from "@/lib/returns/return-moves";
import type { ReturnStanding } from "@/lib/returns/return-standing";
import { calendarDate } from "@/lib/warranty/calendar";
import { actorOf } from "./any-actor";
import { allStated, fullPast, proposal, repair, standing } from "./any-standing";

interface Case {
  readonly name: MoveName;
  readonly role: Role;
  readonly at: Partial<ReturnStanding>;
  readonly stated?: Partial<StatedFacts>;
  readonly without?: keyof StatedFacts;
  readonly decision?: Decision;
  readonly why: MoveRefusal;
}

const known = {
  ...nothingKnown,
  outgoing: null,
  hasReadings: true,
  transportClass: "damaged",
  rulesStand: true,
  labelPrinted: true,
  packedAsTold: true,
  hasArrived: true,
  wasAnotherPack: true,
  faultCoding: "set",
  noFaultProtocol: "done",
  refundIsAgreed: true,
} as const;
const past = fullPast;
const returnAsIs: Decision = { ...repair, remedy: "return-as-is" };
const nothingFound: Decision = { ...returnAsIs, confirmedFault: "no-fault-found" };
const waiting = { status: "decision-proposed" } as const;

// Conditions of the moves: common practice of the trade, no single source.
const refused: readonly Case[] = [
  { name: "ask", role: "technician", at: { status: "in-review" }, without: "dueOn", why: "due-missing" },
  {
    name: "ask",
    role: "technician",
    at: { status: "in-review" },
    stated: { dueOn: "2026-10-04" },
    why: "due-in-the-past",
  },
  {
    name: "lapse-unanswered",
    role: "technician",
    at: { status: "more-information-needed", safety: "isolate" },
    why: "safety-open",
  },
  {
    name: "lapse-unanswered",
    role: "technician",
    at: { status: "more-information-needed", past: { ...past, question: null } },
    why: "reminders-left",
  },
  {
    name: "help",
    role: "technician",
    at: { status: "in-review", known: { ...known, hasReadings: false } },
    why: "log-missing",
  },
  {
    name: "solve-remotely",
    role: "technician",
    at: { status: "remote-help", past: { ...past, helpConfirmed: false } },
    why: "dealer-has-not-confirmed",
  },
  { name: "solve-remotely", role: "technician", at: { status: "remote-help" }, why: "remedy-missing" },
  // Closed without a fault from a distance is "no fault found" like any other.
  {
    name: "solve-remotely",
    role: "technician",
    at: { status: "remote-help", known: { ...known, noFaultProtocol: "open" } },
    decision: { ...nothingFound, remedy: "remote-fix" },
    why: "no-fault-untried",
  },
  {
    name: "solve-remotely",
    role: "technician",
    at: { status: "remote-help", known: { ...known, noFaultProtocol: "showed" } },
    decision: { ...nothingFound, remedy: "remote-fix" },
    why: "no-fault-showed",
  },
  // Solved at the counter it is ridden again, so it is asked as one that goes back.
  {
    name: "solve-remotely",
    role: "technician",
    at: { status: "remote-help", known: { ...known, outgoingIsStopped: true } },
    decision: { ...nothingFound, remedy: "remote-fix" },
    why: "pack-stopped",
  },
  {
    name: "reopen-solved",
    role: "dealer",
    at: { status: "solved-remotely", now: new Date("2026-11-20T00:00:00Z") },
    why: "too-late",
  },
  {
    name: "approve-return",
    role: "service-lead",
    at: { status: "in-review", known: { ...known, transportClass: null } },
    why: "class-missing",
  },
  {
    name: "approve-return",
    role: "technician",
    at: { status: "in-review", known: { ...known, rulesStand: false } },
    why: "rules-changed",
  },
  ...(["approve-return", "renew-approval"] as const).flatMap((name) =>
    (["class-missing", "do-not-ship"] as const).map((why) => ({
      name,
      role: "service-lead" as const,
      at: {
        status: name === "renew-approval" ? ("lapsed" as const) : ("remote-help" as const),
        known: { ...known, transportClass: why === "do-not-ship" ? why : null },
      },
      why,
    })),
  ),
  // Declared anew, or under rules that have changed, after the permission was given.
  {
    name: "hand-to-carrier",
    role: "dealer",
    at: { status: "return-approved", known: { ...known, rulesStand: false } },
    why: "rules-changed",
  },
  {
    name: "hand-to-carrier",
    role: "dealer",
    at: { status: "return-approved", known: { ...known, evidenceStands: false } },
    why: "evidence-changed",
  },
  {
    name: "hand-to-carrier",
    role: "dealer",
    at: { status: "return-approved", known: { ...known, isHeldUnseen: true } },
    why: "safety-open",
  },
  // A pack that came back is held back like one from stock, wherever its return stands before it goes out.
  ...(
    [
      ["ready-without-work", "technician", "decided", "return-as-is"],
      ["finish-work", "technician", "work-in-progress", "repair"],
      ["hand-back", "dealer", "ready-to-hand-back", "repair"],
    ] as const
  ).map(([name, role, status, decidedRemedy]) => ({
    name,
    role,
    at: { status, decidedRemedy, known: { ...known, outgoingIsStopped: true } },
    why: "pack-stopped" as const,
  })),
  {
    name: "hand-to-carrier",
    role: "dealer",
    at: { status: "return-approved", known: { ...known, transportClass: "do-not-ship" } },
    why: "do-not-ship",
  },
  {
    name: "approve-return",
    role: "technician",
    at: { status: "in-review", known: { ...known, transportClass: "do-not-ship" } },
    why: "do-not-ship",
  },
  {
    name: "approve-return",
    role: "service-lead",
    at: { status: "in-review", safety: "do-not-move" },
    why: "safety-open",
  },
  {
    name: "approve-return",
    role: "service-lead",
    at: { status: "in-review", safety: "isolate" },
    why: "safety-open",
  },
  { name: "hand-to-carrier", role: "dealer", at: { status: "return-approved", safety: "isolate" }, why: "safety-open" },
  {
    name: "hand-to-carrier",
    role: "dealer",
    at: { status: "return-approved", known: { ...known, labelPrinted: false } },
    why: "label-missing",
  },
  {
    name: "hand-to-carrier",
    role: "dealer",
    at: { status: "return-approved", known: { ...known, packedAsTold: false } },
    why: "not-packed",
  },
  {
    name: "hand-to-carrier",
    role: "dealer",
    at: { status: "return-approved", known: { ...known, sendingEndsAt: "2026-10-01T00:00:00Z" } },
    why: "sending-ended",
  },
  // Nobody sends what lies at the works already, or what nobody has.
  { name: "approve-return", role: "service-lead", at: { status: "in-review", custody: "store" }, why: "pack-is-here" },
  {
    name: "renew-approval",
    role: "service-lead",
    at: { status: "lapsed", custody: "quarantine" },
    why: "pack-is-here",
  },
  {
    name: "hand-to-carrier",
    role: "dealer",
    at: { status: "return-approved", custody: "missing" },
    why: "pack-out-of-reach",
  },
  {
    name: "lapse-approval",
    role: "technician",
    at: { status: "return-approved", known: { ...known, sendingEndsAt: "2026-11-01T00:00:00Z" } },
    why: "sending-still-open",
  },
  {
    name: "renew-approval",
    role: "service-lead",
    at: { status: "lapsed", past: { ...past, lapsedFrom: "more-information-needed" } },
    why: "not-from-here",
  },
  {
    name: "take-up-again",
    role: "dealer",
    at: { status: "lapsed", past: { ...past, lapsedFrom: "return-approved", askedBeforeLapse: null } },
    why: "not-from-here",
  },
  {
    name: "receive",
    role: "technician",
    at: { status: "return-expected", known: { ...known, hasArrived: false } },
    why: "arrival-missing",
  },
  {
    name: "receive",
    role: "technician",
    at: { status: "return-expected" },
    without: "scannedSerial",
    why: "scan-missing",
  },
  {
    name: "receive",
    role: "technician",
    at: { status: "return-expected" },
    stated: { scannedSerial: "QP2402000025" },
    why: "wrong-pack",
  },
  { name: "come-back", role: "dealer", at: { status: "return-expected", custody: "quarantine" }, why: "pack-is-here" },
  {
    name: "come-back",
    role: "technician",
    at: { status: "return-expected", custody: "recycler" },
    why: "pack-out-of-reach",
  },
  {
    name: "await-again",
    role: "technician",
    at: { status: "at-the-works", known: { ...known, wasAnotherPack: false } },
    why: "mismatch-open",
  },
  { name: "start-test", role: "technician", at: { status: "at-the-works", safety: "isolate" }, why: "safety-open" },
  {
    name: "start-test",
    role: "technician",
    at: { status: "at-the-works", custody: "with-carrier-in" },
    why: "pack-not-here",
  },
  {
    name: "start-test",
    role: "technician",
    at: { status: "at-the-works", known: { ...known, quarantineMet: false } },
    why: "quarantine-not-met",
  },
  { name: "propose", role: "technician", at: { status: "in-review" }, why: "remedy-missing" },
  {
    name: "propose",
    role: "technician",
    at: { status: "in-review", safety: "isolate" },
    decision: returnAsIs,
    why: "safety-open",
  },
  {
    name: "propose",
    role: "technician",
    at: { status: "in-review", isOnHold: true },
    decision: { ...repair, remedy: "dispose" },
    why: "on-hold",
  },
  {
    name: "propose",
    role: "technician",
    at: { status: "under-test" },
    decision: repair,
    without: "tests",
    why: "tests-open",
  },
  {
    name: "propose",
    role: "technician",
    at: { status: "under-test" },
    decision: repair,
    stated: { tests: "waived" },
    why: "tests-open",
  },
  {
    name: "propose",
    role: "technician",
    at: { status: "under-test", known: { ...known, tests: "open" } },
    decision: repair,
    why: "tests-open",
  },
  {
    name: "propose",
    role: "technician",
    at: { status: "under-test", known: { ...known, faultCoding: "missing" } },
    decision: repair,
    why: "coding-missing",
  },
  {
    name: "propose",
    role: "technician",
    at: { status: "under-test", known: { ...known, noFaultProtocol: "open" } },
    decision: nothingFound,
    why: "no-fault-untried",
  },
  {
    name: "propose",
    role: "technician",
    at: { status: "in-review", known: { ...known, noFaultProtocol: "open" } },
    decision: nothingFound,
    why: "no-fault-untried",
  },
  {
    name: "propose",
    role: "technician",
    at: { status: "under-test", known: { ...known, noFaultProtocol: "showed" } },
    decision: nothingFound,
    why: "no-fault-showed",
  },
  // Coded as nothing found, whatever the decision calls it.
  {
    name: "propose",
    role: "technician",
    at: { status: "under-test", known: { ...known, faultCoding: "set-nothing-found", noFaultProtocol: "open" } },
    decision: { ...returnAsIs, confirmedFault: "unknown" },
    why: "no-fault-untried",
  },
  {
    name: "propose",
    role: "technician",
    at: { status: "in-review", past: { ...past, formerReviewerIds: ["technician-1"] } },
    decision: repair,
    why: "former-reviewer",
  },
  {
    name: "approve",
    role: "service-lead",
    at: { ...waiting, past: { ...past, proposal: { ...proposal, proposedByUserId: "service-lead-1" } } },
    why: "own-proposal",
  },
  {
    name: "approve",
    role: "service-lead",
    at: { ...waiting, past: { ...past, lodgedByUserId: "service-lead-1" } },
    why: "own-return",
  },
  // Whoever took the call and began the form is no independent eye either.
  {
    name: "approve",
    role: "service-lead",
    at: { ...waiting, past: { ...past, begunByUserId: "service-lead-1" } },
    why: "own-return",
  },
  { name: "approve", role: "service-lead", at: waiting, without: "noticesGiven", why: "notices-missing" },
  {
    name: "approve",
    role: "service-lead",
    at: { ...waiting, safety: "isolate", past: { ...past, proposal: { ...proposal, decision: returnAsIs } } },
    why: "safety-open",
  },
  {
    name: "approve",
    role: "manager",
    at: { ...waiting, past: { ...past, proposal: { ...proposal, proposedByRole: "technician" } } },
    why: "first-approval-missing",
  },
  { name: "approve-as-second", role: "manager", at: { ...waiting, secondPerson: [] }, why: "no-second-needed" },
  {
    name: "approve-as-second",
    role: "manager",
    at: { ...waiting, secondPerson: ["refusal"] },
    why: "first-approval-missing",
  },
  {
    name: "approve-as-second",
    role: "manager",
    at: {
      ...waiting,
      secondPerson: ["refusal"],
      past: { ...past, proposal: { ...proposal, firstApprovalByUserId: "manager-1" } },
    },
    why: "same-approver",
  },
  {
    name: "send-back",
    role: "service-lead",
    at: { ...waiting, past: { ...past, proposal: { ...proposal, proposedByUserId: "service-lead-1" } } },
    why: "own-proposal",
  },
  {
    name: "start-work",
    role: "technician",
    at: { status: "decided", decidedRemedy: "return-as-is" },
    why: "work-not-needed",
  },
  { name: "start-work", role: "technician", at: { status: "decided" }, without: "partsAndPlan", why: "plan-missing" },
  { name: "start-work", role: "technician", at: { status: "decided", custody: "with-dealer" }, why: "pack-not-here" },
  {
    name: "start-work",
    role: "technician",
    at: { status: "decided", decidedRemedy: "replace" },
    without: "reservedSerial",
    why: "unit-missing",
  },
  {
    name: "start-work",
    role: "technician",
    at: { status: "decided", decidedRemedy: "replace", known: { ...known, outgoingIsStopped: true } },
    why: "unit-stopped",
  },
  {
    name: "start-work",
    role: "technician",
    at: { status: "decided", decidedRemedy: "dispose", isOnHold: true },
    why: "on-hold",
  },
  { name: "ready-without-work", role: "technician", at: { status: "decided" }, why: "work-needed" },
  {
    name: "ready-without-work",
    role: "technician",
    at: { status: "decided", decidedRemedy: "isolate" },
    why: "work-needed",
  },
  {
    name: "ready-without-work",
    role: "technician",
    at: { status: "decided", decidedRemedy: "refuse" },
    without: "packIsSafe",
    why: "not-known-safe",
  },
  {
    name: "ready-without-work",
    role: "technician",
    at: { status: "decided", decidedRemedy: "refuse", safety: "isolate" },
    why: "safety-open",
  },
  {
    name: "finish-work",
    role: "technician",
    at: { status: "work-in-progress", known: { ...known, isReleased: false } },
    why: "limits-not-passed",
  },
  {
    name: "finish-work",
    role: "technician",
    at: { status: "work-in-progress", decidedRemedy: "replace" },
    without: "releaseSignature",
    why: "signature-missing",
  },
  { name: "hand-back", role: "dealer", at: { status: "ready-to-hand-back", safety: "isolate" }, why: "safety-open" },
  // Evidence is neither worked on nor given away.
  { name: "start-work", role: "technician", at: { status: "decided", isOnHold: true }, why: "on-hold" },
  {
    name: "hand-back",
    role: "dealer",
    at: { status: "ready-to-hand-back", custody: "workshop", isOnHold: true },
    why: "on-hold",
  },
  // Confirmed by the dealer it needs no paper; recorded by the house it does, with a day that can be.
  ...(["deliveryProof", "deliveredOn"] as const).map(
    (without) =>
      ({
        name: "hand-back",
        role: "technician",
        at: { status: "ready-to-hand-back" },
        without,
        why: "delivery-unproven",
      }) as const,
  ),
  ...["2026-09-19", "2026-10-06"].map(
    (deliveredOn) =>
      ({
        ...({ name: "hand-back", role: "technician", at: { status: "ready-to-hand-back" } } as const),
        ...({ stated: { deliveredOn }, why: "delivery-day-wrong" } as const),
      }) as const,
  ),
  {
    name: "hand-back",
    role: "dealer",
    at: { status: "ready-to-hand-back" },
    without: "outgoingSerial",
    why: "scan-missing",
  },
  {
    name: "hand-back",
    role: "dealer",
    at: { status: "ready-to-hand-back" },
    stated: { outgoingSerial: "QP2402000025" },
    why: "wrong-unit",
  },
  {
    name: "hand-back",
    role: "dealer",
    at: { status: "ready-to-hand-back", decidedRemedy: "replace", known: { ...known, reservedSerial: "QP2402000025" } },
    why: "wrong-unit",
  },
  {
    name: "hand-back",
    role: "dealer",
    at: { status: "ready-to-hand-back", known: { ...known, outgoing: "outgoing-no-class" } },
    why: "outgoing-no-class",
  },
  {
    name: "hand-back",
    role: "technician",
    at: {
      status: "ready-to-hand-back",
      decidedRemedy: "replace",
      custody: "with-dealer",
      known: { ...known, reservedSerial: "QP2402000025", outgoing: "outgoing-not-packed" },
    },
    stated: { outgoingSerial: "QP2402000025" },
    why: "outgoing-not-packed",
  },
  {
    name: "hand-back",
    role: "dealer",
    at: { status: "ready-to-hand-back", decidedRemedy: "replace" },
    stated: { outgoingSerial: "QP2402000025" },
    why: "unit-missing",
  },
  {
    name: "hand-back",
    role: "dealer",
    at: {
      status: "ready-to-hand-back",
      decidedRemedy: "replace",
      known: { ...known, reservedSerial: "QP2402000025", outgoingIsStopped: true },
    },
    stated: { outgoingSerial: "QP2402000025" },
    why: "unit-stopped",
  },
  {
    name: "finish-work",
    role: "technician",
    at: {
      status: "work-in-progress",
      decidedRemedy: "replace",
      known: { ...known, reservedSerial: "QP2402000025", outgoingIsStopped: true },
    },
    why: "unit-stopped",
  },
  {
    name: "close",
    role: "manager",
    at: { status: "handed-back", known: { ...known, loanIsOut: true } },
    why: "loan-out",
  },
  {
    name: "close",
    role: "manager",
    at: { status: "handed-back", known: { ...known, remedyDelivered: false } },
    why: "remedy-not-delivered",
  },
  {
    name: "close",
    role: "manager",
    at: { status: "handed-back", past: { ...past, handedBackAt: "2026-10-01T00:00:00Z" } },
    why: "too-early",
  },
  {
    name: "close",
    role: "manager",
    at: { status: "handed-back" },
    without: "remedyDelivered",
    why: "remedy-not-delivered",
  },
  {
    name: "close",
    role: "manager",
    at: { status: "handed-back", known: { ...known, moneySettled: false } },
    why: "money-open",
  },
  {
    name: "object",
    role: "dealer",
    at: {
      status: "closed",
      past: { ...past, decidedAt: "2026-07-30T00:00:00Z", handedBackAt: "2026-08-01T00:00:00Z" },
    },
    why: "too-late",
  },
  {
    name: "reopen",
    role: "service-lead",
    at: { status: "decided", decidedRemedy: "repair" },
    why: "decision-can-go-on",
  },
  { name: "merge", role: "technician", at: { status: "sent-in" }, without: "duplicateOf", why: "duplicate-missing" },
  {
    name: "merge",
    role: "technician",
    at: { status: "sent-in" },
    stated: { duplicateOf: "R-26-00417-S" },
    why: "duplicate-missing",
  },
  { name: "withdraw", role: "dealer", at: { status: "sent-in", safety: "incident-open" }, why: "safety-open" },
  {
    name: "withdraw",
    role: "dealer",
    at: { status: "in-review", custody: "with-dealer", known: { ...known, awaitedBackBy: "2026-11-20" } },
    why: "awaited-back",
  },
  {
    name: "lapse-approval",
    role: "technician",
    at: {
      status: "return-approved",
      custody: "with-dealer",
      known: { ...known, awaitedBackBy: "2026-11-20", sendingEndsAt: "2026-10-01T00:00:00Z" },
    },
    why: "awaited-back",
  },
  // Whatever ends it: what was lent, sent in place of the pack, or is to come back, is looked for on a return that is open.
  ...(
    [
      ["withdraw", "dealer", { status: "in-review" }],
      ["lapse-unanswered", "technician", { status: "more-information-needed" }],
      ["lapse-approval", "technician", { status: "return-approved" }],
      ["solve-remotely", "technician", { status: "remote-help" }],
    ] as const
  ).flatMap(([name, role, at]) =>
    (
      [
        [{ loanIsOut: true }, "loan-out"],
        [{ unitIsOut: true }, "unit-out"],
        [{ awaitedBackBy: "2026-11-20" }, "awaited-back"],
      ] as const
    ).map(([out, why]) => ({
      name,
      role,
      at: {
        ...at,
        custody: "with-dealer",
        known: { ...known, ...out, sendingEndsAt: "2026-10-01T00:00:00Z" },
      } as const,
      ...(name === "solve-remotely" ? { decision: { ...repair, remedy: "remote-fix" as const } } : {}),
      why,
    })),
  ),
  ...(
    [
      ["quarantine", "pack-is-with-us"],
      ["with-carrier-in", "pack-is-with-us"],
      ["missing", "pack-out-of-reach"],
      ["recycler", "pack-out-of-reach"],
    ] as const
  ).map(([custody, why]) => ({
    ...({ name: "solve-remotely", role: "technician", at: { status: "remote-help", custody }, why } as const),
    decision: { ...repair, remedy: "remote-fix" as const },
  })),
  {
    name: "solve-remotely",
    role: "technician",
    at: { status: "remote-help", custody: "with-dealer", past: { ...past, lodgedByUserId: "technician-1" } },
    decision: { ...repair, remedy: "remote-fix" },
    why: "own-return",
  },
  {
    name: "solve-remotely",
    role: "technician",
    at: { status: "remote-help", custody: "with-dealer", weighed: { ...standing().weighed, suggested: "replace" } },
    decision: { ...repair, remedy: "remote-fix" },
    why: "needs-two",
  },
  // Asked from the bench, and the pack lies there: it is not dropped, whoever asks for that.
  { name: "withdraw", role: "dealer", at: { status: "more-information-needed" }, why: "pack-is-with-us" },
  { name: "withdraw", role: "dealer", at: { status: "in-review", custody: "with-carrier-in" }, why: "pack-is-with-us" },
  { name: "lapse-unanswered", role: "technician", at: { status: "more-information-needed" }, why: "pack-is-with-us" },
  { name: "merge", role: "technician", at: { status: "in-review" }, why: "pack-is-with-us" },
  // Only what needs no look at the pack is proposed before somebody has looked at it.
  ...(["remote-help", "return-approved", "return-expected", "at-the-works"] as const).map((status) => ({
    name: "propose" as const,
    role: "technician" as const,
    at: { status },
    decision: repair,
    why: "look-first" as const,
  })),
  {
    name: "propose",
    role: "technician",
    at: { status: "under-test", custody: "missing" },
    decision: returnAsIs,
    why: "look-first",
  },
  // A refund is the whole of its complaint, in the currency in which a part of it was paid.
  {
    name: "propose",
    role: "technician",
    at: { status: "in-review", known: { ...known, refundPaidIn: "CHF" } },
    decision: { ...repair, remedy: "refund", refundMinor: 5000, refundCurrency: "EUR" },
    why: "refund-in-other-currency",
  },
  // More beside what the customer has already: what comes back is said first.
  {
    name: "propose",
    role: "technician",
    at: { status: "in-review", known: { ...known, refundPaidIn: "EUR" } },
    decision: repair,
    why: "given-before",
  },
  {
    name: "propose",
    role: "technician",
    at: { status: "in-review", known: { ...known, unitGiven: "QP2402000025" } },
    decision: { ...repair, remedy: "refund", refundMinor: 5000, refundCurrency: "EUR" },
    why: "given-before",
  },
  // Never here, and on no photograph: refused so only with a reason.
  {
    name: "propose",
    role: "technician",
    at: { status: "in-review", custody: "with-dealer", known },
    decision: { ...repair, remedy: "refuse" },
    why: "refusal-unseen",
  },
  {
    name: "propose",
    role: "technician",
    at: { status: "in-review", custody: "with-customer", known },
    decision: { ...repair, remedy: "return-as-is" },
    why: "refusal-unseen",
  },
  // Words alone are no answer: whether anything comes back, and a day that somebody can keep.
  {
    name: "propose",
    role: "technician",
    at: { status: "in-review", known: { ...known, refundPaidIn: "EUR" } },
    decision: { ...repair, comesBack: "The money is paid back." },
    why: "given-before",
  },
  {
    name: "propose",
    role: "technician",
    at: { status: "in-review", known: { ...known, refundPaidIn: "EUR" } },
    decision: {
      ...repair,
      comesBackWhat: "comes-back",
      comesBackBy: "2026-10-04",
      comesBack: "The money is paid back.",
    },
    why: "due-in-the-past",
  },
  {
    name: "close",
    role: "manager",
    at: { status: "handed-back", known: { ...known, awaitedBackBy: "2026-12-01" } },
    why: "awaited-back",
  },
  {
    name: "close",
    role: "manager",
    at: { status: "handed-back", known: { ...known, unitIsOut: true } },
    why: "unit-out",
  },
  // A refund has begun before its return is ready, and only what happens to the pack itself calls it in once it is decided.
  {
    name: "ready-without-work",
    role: "technician",
    at: { status: "decided", decidedRemedy: "refund", known: { ...known, refundIsAgreed: false } },
    why: "refund-not-agreed",
  },
  {
    name: "approve-return",
    role: "service-lead",
    at: { status: "decided", custody: "with-dealer", decidedRemedy: "replace" },
    why: "not-from-here",
  },
  // Disposed of at the dealer's: never a pack that is set apart or held, and never without a word on who took it.
  {
    name: "finish-work",
    role: "technician",
    at: { status: "work-in-progress", decidedRemedy: "dispose", custody: "with-dealer" },
    without: "takenAwayBy",
    why: "outcome-missing",
  },
  {
    name: "finish-work",
    role: "technician",
    at: { status: "work-in-progress", decidedRemedy: "dispose", custody: "with-dealer", safety: "isolate" },
    why: "safety-open",
  },
  {
    name: "finish-work",
    role: "technician",
    at: { status: "work-in-progress", decidedRemedy: "dispose", custody: "with-dealer", isOnHold: true },
    why: "on-hold",
  },
  {
    name: "start-work",
    role: "technician",
    at: { status: "decided", decidedRemedy: "dispose", custody: "missing" },
    why: "pack-out-of-reach",
  },
];

test.for(refused.map((one, index) => ({ ...one, title: `${index + 1}: ${one.name} by ${one.role}, ${one.why}` })))(
  "refused $title",
  ({ name, role, at, stated, without, decision, why }) => {
    const said = Object.fromEntries(Object.entries({ ...allStated, ...stated }).filter(([key]) => key !== without));
    const request = { name, reason: "Because.", seenVersion: 3, stated: said, decision };
    expect(moveReturn(actorOf(role), standing(at), request)).toMatchObject({ kind: "refused", why });
  },
);

test("what another part of the program knows makes the statement superfluous", () => {
  const told = {
    ...known,
    transportClass: "damaged",
    packedAsTold: true,
    quarantineMet: true,
    tests: "waived",
  } as const;
  const by = (role: Role, name: MoveName, at: Partial<ReturnStanding>, decision?: Decision) =>
    moveReturn(actorOf(role), standing({ ...at, known: told }), { name, reason: "Because.", seenVersion: 3, decision });
  expect(by("technician", "approve-return", { status: "in-review", custody: "with-dealer" }).kind).toBe("moved");
  expect(by("dealer", "hand-to-carrier", { status: "return-approved", custody: "with-dealer" }).kind).toBe("moved");
  expect(by("technician", "start-test", { status: "at-the-works" }).kind).toBe("moved");
  expect(by("technician", "propose", { status: "under-test" }, repair).kind).toBe("moved");
});

test("a pack kept in the program is the one that goes out; its serial need not be typed when work begins", () => {
  const told = { ...known, reservedSerial: "QP2402000025" };
  const replace = { decidedRemedy: "replace", known: told } as const;
  const start = { name: "start-work", reason: "", seenVersion: 3, stated: {} } as const;
  expect(moveReturn(actorOf("technician"), standing({ status: "decided", ...replace }), start).kind).toBe("moved");
  const handBack = {
    name: "hand-back",
    reason: "",
    seenVersion: 3,
    stated: { outgoingSerial: "QP2402000025" },
  } as const;
  const ready = standing({ status: "ready-to-hand-back", ...replace });
  expect(moveReturn(actorOf("dealer"), ready, handBack).kind).toBe("moved");
});

test("of a pack nobody has tested exactly what may be proposed of it is offered", () => {
  const offered = remediesOffered(true);
  expect(offered).toEqual(["replace", "refund", "dispose", "isolate"]);
  expect(remediesOffered(false)).toEqual(decidableRemedies);
  for (const remedy of decidableRemedies) {
    const outcome = moveReturn(actorOf("technician"), standing({ status: "at-the-works" }), {
      name: "propose",
      reason: "Because.",
      seenVersion: 3,
      stated: allStated,
      decision: { ...repair, remedy },
    });
    const why = outcome.kind === "refused" ? outcome.why : null;
    expect([remedy, why === "look-first"]).toEqual([remedy, !offered.includes(remedy)]);
  }
});

test("what the dealer says has solved it there may be proposed from the help, for two people to approve", () => {
  const at = (helpConfirmed: boolean) =>
    moveReturn(actorOf("technician"), standing({ status: "remote-help", past: { ...past, helpConfirmed } }), {
      name: "propose",
      reason: "The dealer replaced the fuse.",
      seenVersion: 3,
      stated: allStated,
      decision: { ...repair, remedy: "remote-fix" },
    });
  expect(at(true).kind).toBe("moved");
  expect(at(false)).toMatchObject({ why: "look-first" });
});

test("what the bench asks before a decision is not asked on log and photographs alone, and once met lets it pass", () => {
  const at = (here: Partial<ReturnStanding>, decision: Decision) =>
    moveReturn(actorOf("technician"), standing(here), {
      name: "propose",
      reason: "Because.",
      seenVersion: 3,
      stated: allStated,
      decision,
    }).kind;
  const uncoded = { ...known, faultCoding: "missing" } as const;
  expect(at({ status: "in-review", known: uncoded }, repair)).toBe("moved");
  expect(at({ status: "work-in-progress", known: uncoded }, repair)).toBe("moved");
  for (const noFaultProtocol of ["done", "waived"] as const) {
    const known = { ...uncoded, faultCoding: "set-nothing-found", noFaultProtocol } as const;
    expect(at({ status: "under-test", known }, nothingFound)).toBe("moved");
  }
});

test("an approval of a decision that needs two people keeps it proposed until the second has agreed", () => {
  const lead = actorOf("service-lead");
  const first = { name: "approve", reason: "", seenVersion: 3, stated: allStated } as const;
  const here = standing({ ...waiting, secondPerson: ["refusal"] });
  expect(moveReturn(lead, here, first)).toMatchObject({ kind: "moved", to: "decision-proposed" });
  const approved = { ...proposal, firstApprovalByUserId: "service-lead-1", firstApprovalByName: "L" };
  const then = standing({ ...waiting, secondPerson: ["refusal"], past: { ...past, proposal: approved } });
  expect(moveReturn(lead, then, first)).toMatchObject({ why: "same-approver" });
  const second = { ...first, name: "approve-as-second", reason: "Agreed." } as const;
  expect(moveReturn(actorOf("manager"), then, second)).toMatchObject({ kind: "moved", to: "decided" });
});

test("a pack that goes with the case is moved with it, and stays where it is there already", () => {
  const request = { name: "start-test", reason: "", seenVersion: 3, stated: allStated } as const;
  const from = (custody: ReturnStanding["custody"]) =>
    moveReturn(actorOf("technician"), standing({ status: "at-the-works", custody }), request);
  expect(from("quarantine")).toMatchObject({ custodyTo: "bench" });
  expect(from("bench")).toMatchObject({ custodyTo: null });
});

test("a repair or a disposal decided while the pack is at the dealer's goes on: called in, or disposed of there", () => {
  const at = (role: Role, name: MoveName, here: Partial<ReturnStanding>) =>
    moveReturn(actorOf(role), standing(here), { name, reason: "Because.", seenVersion: 3, stated: allStated });
  const there = { custody: "with-dealer" } as const;
  for (const decidedRemedy of ["repair", "dispose"] as const) {
    const called = at("service-lead", "approve-return", { ...there, status: "decided", decidedRemedy });
    expect(called).toMatchObject({ kind: "moved", to: "return-approved", custodyTo: null });
  }
  const disposal = { ...there, decidedRemedy: "dispose" } as const;
  expect(at("technician", "start-work", { ...disposal, status: "decided" })).toMatchObject({ to: "work-in-progress" });
  const gone = at("technician", "finish-work", { ...disposal, status: "work-in-progress" });
  expect(gone).toMatchObject({ to: "ready-to-hand-back", custodyTo: "recycler" });
  const here = { ...disposal, status: "work-in-progress", custody: "store" } as const;
  expect(at("technician", "finish-work", here)).toMatchObject({ custodyTo: null });
});

test("a decision that cannot be carried out is taken up again by lead or manager, and one that can is not", () => {
  const reopened = (here: Partial<ReturnStanding>) => {
    const request = { name: "reopen", reason: "Because.", seenVersion: 3 } as const;
    return moveReturn(actorOf("manager"), standing({ status: "decided", ...here }), request).kind;
  };
  for (const status of ["decided", "ready-to-hand-back"] as const) {
    expect(reopened({ status })).toBe("refused");
    expect(reopened({ status, safety: "isolate" })).toBe("moved");
    expect(reopened({ status, custody: "missing" })).toBe("moved");
    const unitKept = { ...standing().known, reservedSerial: "QP2402000025" };
    expect(reopened({ status, custody: "missing", decidedRemedy: "replace", known: unitKept })).toBe("refused");
    expect(reopened({ status, isOnHold: true, decidedRemedy: "dispose" })).toBe("moved");
  }
  // What was disposed of is where it was to go.
  expect(reopened({ status: "ready-to-hand-back", decidedRemedy: "dispose", custody: "recycler" })).toBe("refused");
});

test("a pack that is received or handed back is written down there, from wherever the record had it", () => {
  const place = (
    role: Role,
    name: MoveName,
    at: Partial<ReturnStanding>,
    outgoingSerial = allStated.outgoingSerial,
  ) => {
    const request = { name, reason: "", seenVersion: 3, stated: { ...allStated, outgoingSerial } } as const;
    return moveReturn(actorOf(role), standing(at), request);
  };
  for (const status of ["return-expected", "return-approved", "in-review", "remote-help", "lapsed"] as const) {
    for (const custody of ["with-customer", "with-dealer", "with-carrier-in", "missing"] as const) {
      expect(place("technician", "receive", { status, custody })).toMatchObject({ custodyTo: "quarantine" });
    }
  }
  const ready = { status: "ready-to-hand-back" } as const;
  for (const custody of ["quarantine", "bench", "store", "workshop", "with-carrier-out"] as const) {
    for (const decidedRemedy of ["repair", "return-as-is", "refuse", "redirect", "remote-fix"] as const) {
      const handedBack = place("dealer", "hand-back", { ...ready, custody, decidedRemedy });
      expect(handedBack, `${decidedRemedy} ${custody}`).toMatchObject({ custodyTo: "with-dealer" });
    }
    // The old pack stays where it is when another goes out, or none.
    for (const decidedRemedy of ["replace", "refund", "dispose"] as const) {
      const kept = { ...ready, custody, decidedRemedy, known: { ...known, reservedSerial: "QP2402000025" } };
      expect(place("dealer", "hand-back", kept, "QP2402000025")).toMatchObject({ custodyTo: null });
    }
  }
  expect(place("dealer", "hand-back", { ...ready, custody: "with-customer" })).toMatchObject({ custodyTo: null });
});

test("a safety deputy is no approver", () => {
  const deputy = mintActor({ userId: "x", name: "X", role: "technician", dealerId: null, isSafetyDeputy: true });
  const request = { name: "veto", reason: "Stop.", seenVersion: 3 } as const;
  expect(moveReturn(deputy, standing(waiting), request)).toMatchObject({ why: "not-allowed" });
});

test("an answer may be asked for by today, whatever the day is elsewhere", () => {
  const asked = (dueOn: string, now: string) =>
    moveReturn(actorOf("technician"), standing({ status: "in-review", now: new Date(now) }), {
      name: "ask",
      reason: "Which charger was used?",
      seenVersion: 3,
      stated: { dueOn },
    }).kind;
  expect(asked("2026-10-05", "2026-10-05T09:00:00Z")).toBe("moved");
  // 22:30 UTC is half past midnight of the 6th in Berlin (UTC+2 in summer).
  expect(asked("2026-10-05", "2026-10-05T22:30:00Z")).toBe("refused");
  expect(asked("2026-10-06", "2026-10-05T22:30:00Z")).toBe("moved");
});

test("the last day of the objection runs from the day the customer got the letter, to its end where the dealer is", () => {
  const decidedAt = "2026-09-01T09:00:00.000Z";
  const objected = (now: string, letter: string | null = "2026-09-20") =>
    moveReturn(
      actorOf("dealer"),
      standing({
        status: "decided",
        past: {
          ...past,
          decidedAt,
          handedBackAt: null,
          letterGivenOn: letter === null ? null : calendarDate(letter),
        },
        now: new Date(now),
      }),
      { name: "object", reason: "The fall was after it failed.", seenVersion: 3 },
    ).kind;
  // Thirty calendar days from 20 September: until 20 October, however long before it was decided.
  expect(objected("2026-10-20T16:00:00Z")).toBe("moved");
  expect(objected("2026-10-20T21:59:00Z")).toBe("moved");
  expect(objected("2026-10-20T22:00:00Z")).toBe("refused");
  // Not told, not over.
  expect(objected("2027-10-20T22:00:00Z", null)).toBe("moved");
});

test("when the customer got the letter is recorded once, on a day from the decision up to today", () => {
  const gave = (letterGivenOn: string | undefined, known: string | null = null) => {
    const letter = known === null ? null : calendarDate(known);
    const outcome = moveReturn(
      actorOf("dealer"),
      standing({ status: "decided", past: { ...past, letterGivenOn: letter } }),
      { name: "give-letter", reason: "", seenVersion: 3, stated: letterGivenOn === undefined ? {} : { letterGivenOn } },
    );
    return outcome.kind === "moved" ? outcome.to : outcome.why;
  };
  expect(gave("2026-09-20")).toBe("decided");
  expect(gave("2026-10-05")).toBe("decided");
  expect([gave("2026-09-19"), gave("2026-10-06")]).toEqual(["letter-day-wrong", "letter-day-wrong"]);
  expect(gave(undefined)).toBe("letter-day-missing");
  expect(gave("2026-10-01", "2026-09-21")).toBe("letter-given");
});

test("a disposal stops at its start, its end and the hand-back under a legal hold, a flag or an open incident laid since", () => {
  const steps = [
    ["start-work", "decided"],
    ["finish-work", "work-in-progress"],
    ["hand-back", "ready-to-hand-back"],
  ] as const;
  const technician = actorOf("technician");
  for (const [name, status] of steps) {
    const at = (over: Partial<ReturnStanding>) => {
      const now = standing({ status, decidedRemedy: "dispose", ...over });
      return moveReturn(technician, now, { name, reason: "Because.", seenVersion: now.version, stated: allStated });
    };
    expect(at({}), name).toMatchObject({ kind: "moved" });
    expect(at({ isOnHold: true }), name).toMatchObject({ kind: "refused", why: "on-hold" });
    // An open incident is read as a pack set apart (lib/data/returns/track-rows.ts).
    for (const safety of ["isolate", "do-not-move"] as const)
      expect(at({ safety }), `${name} ${safety}`).toMatchObject({ kind: "refused", why: "safety-open" });
  }
});

test("a refusal that was objected to is upheld by one lead, two managers and two technicians, the first looks by who had no part before", () => {
  const person = (userId: string, role: Role) => mintActor({ userId, name: userId, role, dealerId: null });
  const house = [
    person("technician-a", "technician"),
    person("technician-b", "technician"),
    person("lead", "service-lead"),
    person("manager-a", "manager"),
    person("manager-b", "manager"),
  ];
  const refusal: Decision = {
    ...repair,
    remedy: "refuse",
    refusalTerm: "4.2 of the guarantee.",
    refusalEvidence: "Photograph 3.",
    refusalAlternatives: "A cell, a lead and the charger.",
  };
  // Refused by these; then objected to.
  const formerReviewerIds = ["technician-a", "lead", "manager-a"];
  const may = (name: MoveName, here: ReturnStanding, decision?: Decision) =>
    house
      .filter(
        (actor) =>
          moveReturn(actor, here, { name, reason: "Looked at anew.", seenVersion: 3, stated: allStated, decision })
            .kind === "moved",
      )
      .map(({ userId }) => userId);
  const anew = { ...past, proposal: null, formerReviewerIds };
  expect(may("propose", standing({ status: "under-test", past: anew }), refusal)).toEqual(["technician-b"]);
  const proposed = { ...proposal, decision: refusal, proposedByUserId: "technician-b", proposedByRole: "technician" };
  const two = { ...waiting, secondPerson: ["refusal"] } as const;
  expect(may("approve", standing({ ...two, past: { ...anew, proposal: proposed } }))).toEqual(["manager-b"]);
  const first = { ...proposed, firstApprovalByUserId: "manager-b", firstApprovalByName: "manager-b" };
  expect(may("approve-as-second", standing({ ...two, past: { ...anew, proposal: first } }))).toEqual(["manager-a"]);
});
