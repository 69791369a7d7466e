import { type Actor, isDealerRole } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { DecidableRemedy } from "./decision.schema";
import type { OutgoingRefusal } from "./outgoing-refusal";
import type { RefundOwed } from "./refund-owed";
import {
  type TrackOutcome,
  type TrackRefusal,
  type TrackRequest,
  type TrackStanding,
  trackRefused,
  trackStep,
} from "./track-step";

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
  objected: "Looked at anew",
};

/**
 * Where a remedy stands once its return is objected to or opened again: the case says so, nobody records it apart from that.
 * Null where nothing was promised yet, or it stands so already.
 */
export function whenLookedAtAnew(state: RemedyState): RemedyState | null {
  return state === "none-yet" || state === "objected" ? null : "objected";
}

const ways: Readonly<Record<RemedyState, readonly RemedyState[]>> = {
  "none-yet": ["offered", "refused"],
  offered: ["chosen", "refund-agreed", "refused"],
  chosen: ["reserved", "refund-agreed", "refused"],
  // What was decided anew meanwhile outruns what was promised first.
  reserved: ["sent", "chosen", "refund-agreed", "refused"],
  sent: ["received", "chosen", "refund-agreed", "refused"],
  received: ["refund-agreed", "refused"],
  "refund-agreed": ["refund-paid", "chosen", "refused"],
  "refund-paid": [],
  refused: ["offered", "refund-agreed"],
  objected: ["offered", "refused"],
};

/** What the customer does stands in the dealer's book; a payment is finance's; the rest is the bench's. */
function isTheirs(actor: Actor, to: RemedyState): boolean {
  if (to === "refund-paid") return may(actor, "check-money");
  if (to === "chosen" || to === "received") return isDealerRole(actor.role) || may(actor, "work-on-pack");
  return may(actor, "work-on-pack");
}

/** Delivered in full: the case may close. */
function isRemedyDelivered(state: RemedyState): boolean {
  return state === "received" || state === "refund-paid" || state === "refused";
}

/**
 * Whether the customer has what was decided, as far as the program knows; null where somebody has to state it. What goes
 * over the counter is delivered with the hand-over, whose serial was scanned; a refund when finance has paid it and not before.
 */
export function remedyDelivered(
  state: RemedyState,
  decided: DecidableRemedy | null,
  isHandedBack: boolean,
): boolean | null {
  if (decided === "refund") return state === "refund-paid";
  return isRemedyDelivered(state) || (isHandedBack && decided !== null) ? true : null;
}

export function readRemedyState(stored: string): RemedyState {
  const state = remedyStates.find((known) => known === stored);
  if (state === undefined) throw new RangeError(`remedy state: ${stored} is unknown`);
  return state;
}

export interface RemedyStep {
  readonly to: RemedyState;
  /** Why it does not follow now whatever anybody writes; null where a reason is enough. */
  readonly whyNot: string | null;
}

/** The steps that are this person's from here, those that do not follow from what is known with the reason. */
export function remedyStepsOf(actor: Actor, { state, facts }: Pick<RemedyStanding, "state" | "facts">): RemedyStep[] {
  return ways[state]
    .filter((to) => isTheirs(actor, to))
    .map((to) => {
      const missing = whatIsMissing(to, facts);
      return { to, whyNot: missing === null ? null : trackRefused(missing).sentence };
    });
}

/** What a promise to the customer rests on, as the rest of the program knows it. */
export interface RemedyFacts {
  /** The remedy that was decided and stands. */
  readonly decidedRemedy: DecidableRemedy | null;
  /** Every notice the law of the place of sale asks for before this remedy was shown. */
  readonly noticesGiven: boolean;
  /** The law gives the customer the choice between repair and replacement, and it was not recorded yet. */
  readonly choiceIsMissing: boolean;
  /** A pack from stock is kept for the return. */
  readonly hasUnit: boolean;
  readonly unitIsStopped: boolean;
  /** Why what would be sent may not be given to a carrier yet; null where it may, or nothing is to be carried. */
  readonly outgoing: OutgoingRefusal | null;
  /** The repaired pack was released; counts for a repair alone. */
  readonly isReleased: boolean;
  /** A refund was paid under the decision that stands. */
  readonly refundIsPaid: boolean;
  /** What is still to be paid of the refund that stands; null where none does. */
  readonly refundOwed: RefundOwed | null;
}

export interface RemedyStanding extends TrackStanding<RemedyState> {
  readonly facts: RemedyFacts;
}

/** Remedies of which nothing is offered: refused, or nothing is promised at all. */
const offersNothing: readonly DecidableRemedy[] = ["refuse", "redirect", "isolate", "return-as-is"];

function whyNotPromised(decided: DecidableRemedy | null): TrackRefusal | null {
  if (decided === null) return "undecided";
  return offersNothing.includes(decided) ? "not-what-was-decided" : null;
}

/** Why a step does not follow from what is known; null where it does. */
function whatIsMissing(to: RemedyState, facts: RemedyFacts): TrackRefusal | null {
  const { decidedRemedy } = facts;
  switch (to) {
    case "offered":
      if (decidedRemedy === null) return "undecided";
      if (offersNothing.includes(decidedRemedy)) return "not-what-was-decided";
      return facts.noticesGiven ? null : "notices-missing";
    case "chosen":
      return whyNotPromised(decidedRemedy) ?? (facts.choiceIsMissing ? "choice-missing" : null);
    case "received":
      return decidedRemedy === "refund" ? "not-what-was-decided" : whyNotPromised(decidedRemedy);
    case "reserved":
    case "sent":
      if (decidedRemedy === null) return "undecided";
      if (decidedRemedy === "refund") return "not-what-was-decided";
      if (decidedRemedy === "replace") {
        if (!facts.hasUnit) return "unit-missing";
        if (facts.unitIsStopped) return "unit-stopped";
      } else if (decidedRemedy === "repair" && !facts.isReleased) return "not-released";
      return whyNotPromised(decidedRemedy) ?? (to === "sent" ? facts.outgoing : null);
    case "refund-agreed":
    case "refund-paid":
      if (decidedRemedy === null) return "undecided";
      if (decidedRemedy !== "refund") return "not-what-was-decided";
      if (facts.refundOwed?.kind === "other-currency") return "paid-in-other-currency";
      return facts.refundIsPaid ? "paid-before" : null;
    case "refused":
      if (decidedRemedy === null) return "undecided";
      return decidedRemedy === "refuse" || decidedRemedy === "redirect" ? null : "not-what-was-decided";
    default:
      return null;
  }
}

export function moveRemedy(
  actor: Actor,
  standing: RemedyStanding,
  request: TrackRequest<RemedyState>,
): TrackOutcome<RemedyState> {
  if (!isTheirs(actor, request.to)) return trackRefused("not-allowed");
  if (!ways[standing.state].includes(request.to)) return trackRefused("not-from-here");
  if (request.seenVersion !== standing.version) return trackRefused("someone-changed-this");
  const missing = whatIsMissing(request.to, standing.facts);
  return missing === null ? trackStep(standing, request) : trackRefused(missing);
}
