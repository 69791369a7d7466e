import type { Decision } from "@/lib/returns/decision.schema";
import type { StatedFacts } from "@/lib/returns/return-facts";
import { nothingKnown } from "@/lib/returns/return-facts";
import type { ReturnSettings } from "@/lib/returns/return-settings.schema";
import { nothingPast, type ReturnPast, type ReturnStanding } from "@/lib/returns/return-standing";

export const settings: ReturnSettings = {
  dueDays: { "sent-in": 2, "in-review": 5 },
  remindersBeforeLapse: 2,
  objectionDays: 30,
  solvedReopenDays: 30,
  closeAfterDays: 14,
  draftKeptDays: 14,
  contactKeptDays: 1826,
  remindEveryDays: 3,
  expiryReminderDays: 3,
  refundDays: 14,
  callAgainMinutes: 30,
  refundLimitMinor: 50_000,
  refundLimitCurrency: "EUR",
};

export const repair: Decision = {
  remedy: "repair",
  confirmedFault: "sense-wire",
  reason: "Sense lead re-seated and glued; log is quiet.",
  seenVersion: 3,
};

export const proposal: NonNullable<ReturnPast["proposal"]> = {
  from: "under-test",
  decision: repair,
  proposedByUserId: "somebody",
  proposedByName: "Somebody",
  proposedByRole: "service-lead",
  firstApprovalByUserId: null,
  firstApprovalByName: null,
};

/** A past in which every move finds what it needs. */
export const fullPast: ReturnPast = {
  ...nothingPast,
  lodgedByUserId: "the lodger",
  question: {
    from: "under-test",
    text: "Which charger?",
    dueOn: "2026-10-01",
    reminders: 2,
    askedByName: "A",
    lastAskedAt: "2026-09-28T09:00:00.000Z",
    lapseProposedAt: null,
  },
  lapsedFrom: "return-approved",
  proposal,
  helpConfirmed: true,
  decidedAt: "2026-09-20T09:00:00.000Z",
  handedBackAt: "2026-09-20T10:00:00.000Z",
  solvedAt: "2026-10-01T09:00:00.000Z",
  letterGivenOn: null,
};

export function standing(over: Partial<ReturnStanding> = {}): ReturnStanding {
  return {
    status: "sent-in",
    version: 3,
    dealerId: "d1",
    timeZone: "Europe/Berlin",
    reference: "R-26-00417-S",
    serial: "QP2402000017",
    safety: "normal",
    isOnHold: false,
    custody: "bench",
    decidedRemedy: "repair",
    past: fullPast,
    known: {
      ...nothingKnown,
      hasReadings: true,
      transportClass: "damaged",
      rulesStand: true,
      labelPrinted: true,
      packedAsTold: true,
      hasArrived: true,
      wasAnotherPack: true,
      hasProof: true,
      toldPhotosWhole: true,
      hasNewReadings: true,
      outgoing: null,
      isReleased: true,
      refundIsAgreed: true,
      faultCoding: "set",
      noFaultProtocol: "done",
    },
    weighed: {
      suggested: null,
      suggestedBefore: [],
      cover: "in-cover",
      choice: null,
      given: { moneyIn: null, unitSerial: null },
    },
    secondPerson: [],
    settings,
    told: { objectAfterDecisionDays: 30, objectAfterHandOverDays: 30, reopenAfterSolvedDays: 30 },
    now: new Date("2026-10-05T09:00:00Z"),
    ...over,
  };
}

/** Every question of every form answered in favour of the move. */
export const allStated: StatedFacts = {
  dueOn: "2026-10-12",
  provenSoldOn: "2025-11-03",
  scannedSerial: "QP2402000017",
  quarantineMet: true,
  tests: "done",
  partsAndPlan: "New sense lead.",
  reservedSerial: "QP2402000025",
  releaseSignature: "A. Bench",
  takenAwayBy: "A licensed carrier, consignment note 17.",
  outgoingSerial: "QP2402000017",
  letterGivenOn: "2026-09-21",
  deliveredOn: "2026-10-04",
  deliveryProof: "Spedition Nord, consignment 4711.",
  packIsSafe: true,
  remedyDelivered: true,
  moneySettled: true,
  noticesGiven: true,
  duplicateOf: "R-26-00418-T",
};
