import type { MoveName } from "./move-names";
import { type MoveRefusal, moveRefusals } from "./move-refusal";
import type { StatedFacts } from "./return-facts";

/** A question of a move's form: what is stated with the move, or the reason. */
export type MoveQuestion = keyof StatedFacts | "reason";

/**
 * Which answer of a move's form a refusal is about, so that it stands at that question. What is not here is about the return as it
 * stands, and no other answer would change it.
 */
const questions: Readonly<Partial<Record<MoveRefusal, MoveQuestion>>> = {
  "reason-missing": "reason",
  "remedy-missing": "confirmedFault",
  "due-missing": "dueOn",
  "due-in-the-past": "dueOn",
  "proof-day-missing": "provenSoldOn",
  "log-missing": "logWasAskedFor",
  "scan-missing": "outgoingSerial",
  "wrong-unit": "outgoingSerial",
  "delivery-unproven": "deliveryProof",
  "delivery-day-wrong": "deliveredOn",
  "quarantine-not-met": "quarantineMet",
  "notices-missing": "noticesGiven",
  "plan-missing": "partsAndPlan",
  "unit-missing": "reservedSerial",
  "not-known-safe": "packIsSafe",
  "signature-missing": "releaseSignature",
  "outcome-missing": "takenAwayBy",
  "remedy-not-delivered": "remedyDelivered",
  "money-open": "moneySettled",
  "letter-day-missing": "letterGivenOn",
  "letter-day-wrong": "letterGivenOn",
  "duplicate-missing": "duplicateOf",
};

/** What these moves name is looked up while they are made; a refusal that is none of the table's is about that name. */
const looksUp: Readonly<Partial<Record<MoveName, MoveQuestion>>> = {
  "start-work": "reservedSerial",
  merge: "duplicateOf",
};

/** About the return itself, whatever was answered. */
const ofTheReturn = ["not-found", "pack-stays"];

/** The question a refusal is shown at; null where it is about none. */
export function refusedAt(name: MoveName, reason: string): MoveQuestion | null {
  if (isMoveRefusal(reason)) return questions[reason] ?? null;
  return ofTheReturn.includes(reason) ? null : (looksUp[name] ?? null);
}

function isMoveRefusal(reason: string): reason is MoveRefusal {
  return Object.hasOwn(moveRefusals, reason);
}
