import { type Actor, isDealerRole } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { DecidableRemedy } from "./decision.schema";
import { type TrackOutcome, type TrackRequest, type TrackStanding, trackRefused, trackStep } from "./track-step";

/** What the customer was promised and has received. */
export const remedyStates = [
  "none-yet",
  "offered",
  "chosen",
  "reserved",
  "sent",
  "received",
  "refund-agreed",
  "refund-paid",
  "refused",
  "objected",
] as const;
export type RemedyState = (typeof remedyStates)[number];

export const remedyStateWords: Readonly<Record<RemedyState, string>> = {
  "none-yet": "Nothing promised yet",
  offered: "Offered, with the notices shown",
  chosen: "The customer chose",
  reserved: "Kept ready",
  sent: "Sent",
  received: "Received",
  "refund-agreed": "Refund agreed",
  "refund-paid": "Refund paid",
  refused: "Refused",
  objected: "Objected to",
};

const ways: Readonly<Record<RemedyState, readonly RemedyState[]>> = {
  "none-yet": ["offered", "refused"],
  offered: ["chosen", "refund-agreed", "refused"],
  chosen: ["reserved", "refund-agreed"],
  reserved: ["sent", "chosen"],
  sent: ["received"],
  received: ["objected"],
  "refund-agreed": ["refund-paid", "chosen"],
  "refund-paid": ["objected"],
  refused: ["objected"],
  objected: ["offered", "refused"],
};

/** What the customer does stands in the dealer's book; a payment is finance's; the rest is the bench's. */
function isTheirs(actor: Actor, to: RemedyState): boolean {
  if (to === "refund-paid") return may(actor, "check-money");
  if (to === "objected") return may(actor, "object-to-decision");
  if (to === "chosen" || to === "received") return isDealerRole(actor.role) || may(actor, "work-on-pack");
  return may(actor, "work-on-pack");
}

/** Delivered in full: the case may close. */
export function isRemedyDelivered(state: RemedyState): boolean {
  return state === "received" || state === "refund-paid" || state === "refused";
}

/**
 * Whether the customer has what was decided, as far as the program knows; null where somebody has to state it. What goes
 * over the counter is delivered with the hand-over, whose serial was scanned; a refund when it is paid.
 */
export function remedyDelivered(
  state: RemedyState,
  decided: DecidableRemedy | null,
  isHandedBack: boolean,
): boolean | null {
  if (state === "objected") return false;
  if (isRemedyDelivered(state)) return true;
  return isHandedBack && decided !== null && decided !== "refund" ? true : null;
}

export function readRemedyState(stored: string): RemedyState {
  const state = remedyStates.find((known) => known === stored);
  if (state === undefined) throw new RangeError(`remedy state: ${stored} is unknown`);
  return state;
}

export function nextRemedyStates(actor: Actor, state: RemedyState): RemedyState[] {
  return ways[state].filter((to) => isTheirs(actor, to));
}

export function moveRemedy(
  actor: Actor,
  standing: TrackStanding<RemedyState>,
  request: TrackRequest<RemedyState>,
): TrackOutcome<RemedyState> {
  if (!isTheirs(actor, request.to)) return trackRefused("not-allowed");
  if (!ways[standing.state].includes(request.to)) return trackRefused("not-from-here");
  return trackStep(standing, request);
}
