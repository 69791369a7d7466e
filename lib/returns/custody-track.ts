import type { Actor } from "@/lib/access/actor";
import { isDealerRole } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { DecidableRemedy } from "./decision.schema";
import type { OutgoingRefusal } from "./outgoing-refusal";
import type { ReturnStatus } from "./return-status";
import { isSetApart, mayNotBeMoved, type SafetyState } from "./safety-track";
import { type TrackOutcome, type TrackRequest, type TrackStanding, trackRefused, trackStep } from "./track-step";

export const custodyPlaces = [
  "with-customer",
  "with-dealer",
  "with-carrier-in",
  "quarantine",
  "bench",
  "store",
  "workshop",
  "with-carrier-out",
  "supplier",
  "recycler",
  "specialist",
  "missing",
] as const;
export type CustodyPlace = (typeof custodyPlaces)[number];

export const custodyWords: Readonly<Record<CustodyPlace, string>> = {
  "with-customer": "With the customer",
  "with-dealer": "With the dealer",
  "with-carrier-in": "With the carrier, to the maker",
  quarantine: "In quarantine",
  bench: "On the bench",
  store: "In the store",
  workshop: "In the workshop",
  "with-carrier-out": "With the carrier, to the dealer",
  supplier: "With the supplier, as a sample",
  recycler: "With the recycler",
  specialist: "Collected by a specialist",
  missing: "Missing",
};

export function readCustodyPlace(stored: string): CustodyPlace {
  const place = custodyPlaces.find((known) => known === stored);
  if (place === undefined) throw new RangeError(`custody: ${stored} is unknown`);
  return place;
}

/** Places in the maker's hands. */
export const atTheWorks: readonly CustodyPlace[] = ["quarantine", "bench", "store", "workshop"];

/** In the maker's hands, on the way there, or given on from there. */
export function isWithTheMaker(place: CustodyPlace): boolean {
  return atTheWorks.includes(place) || place === "with-carrier-in" || place === "supplier";
}

/** Places on the dealer's side of the counter. */
export const atTheDealers: readonly CustodyPlace[] = ["with-customer", "with-dealer"];

/** Whoever works on returns cannot lay hands on it there. */
export const outOfReach: readonly CustodyPlace[] = ["missing", "supplier", "recycler", "specialist"];

/**
 * The one table of the ways a pack may go by scan. Recycled is the end, and what a specialist collected (`specialist-collection.ts`)
 * comes in at goods-in if it ever does; missing ends when somebody scans it again.
 */
const ways: Readonly<Record<CustodyPlace, readonly CustodyPlace[]>> = {
  "with-customer": ["with-dealer"],
  "with-dealer": ["with-carrier-in", "with-customer"],
  // Found by goods-in, given back by the carrier, or lost.
  "with-carrier-in": ["quarantine", "with-dealer", "missing"],
  quarantine: ["bench", "store", "with-carrier-out"],
  bench: ["quarantine", "store", "workshop"],
  store: ["quarantine", "bench", "workshop", "with-carrier-out", "supplier", "recycler"],
  workshop: ["quarantine", "bench", "store"],
  "with-carrier-out": ["with-dealer", "quarantine", "missing"],
  supplier: ["quarantine", "missing"],
  recycler: [],
  specialist: [],
  missing: ["with-dealer", "quarantine"],
};

/** Moves that a dealer's own people make; every other is the house's. */
const dealersOwn: readonly string[] = [
  "with-customer with-dealer",
  "with-dealer with-carrier-in",
  "with-dealer with-customer",
  "with-carrier-in with-dealer",
  "with-carrier-out with-dealer",
  "missing with-dealer",
];

export interface CustodyStanding extends TrackStanding<CustodyPlace> {
  readonly safety: SafetyState;
  readonly isOnHold: boolean;
  /** What was decided on the pack's return and stands: without it nothing is recycled or given to a supplier. */
  readonly decidedRemedy: DecidableRemedy | null;
  /** Somebody wrote down that the customer gives this pack, which is still theirs, for a sample. */
  readonly customerAgreed: boolean;
}

export interface ScanStanding extends CustodyStanding {
  /** Whether the stay in quarantine was ended there, by the rules of that stay; null where no arrival is on record. */
  readonly quarantineMet: boolean | null;
  /** Why the pack may not be given to a carrier on the way asked for; null where it may, or the way does not lead out. */
  readonly outgoing: OutgoingRefusal | null;
  readonly status: ReturnStatus;
}

/** Places to which a pack leaves the house with a carrier: class, label and packing come before. */
const leavesTheHouse = ["with-carrier-out", "supplier"] as const satisfies readonly CustodyPlace[];

export function leadsOut(place: CustodyPlace): place is (typeof leavesTheHouse)[number] {
  return leavesTheHouse.some((out) => out === place);
}

/** Ways that a move of the return opens, never a scan alone: what has to come before is asked there. */
const byMoveOnly: readonly string[] = ["with-dealer with-carrier-in"];

/** Whatever comes into the house is entered at goods-in, where box, photographs and the hours in quarantine begin. */
const isGoodsInsOwn = (from: CustodyPlace, to: CustodyPlace) => to === "quarantine" && !atTheWorks.includes(from);

/** Given back by the carrier while goods-in waits for it: with the step of the return, which opens a way to send it anew. */
const isStepOfTheReturn = (status: ReturnStatus, to: CustodyPlace) =>
  status === "return-expected" && to === "with-dealer";

/** Why a scan alone does not record a way that is open; null where it may. */
function whyNotByScan(from: CustodyPlace, to: CustodyPlace, status: ReturnStatus) {
  if (byMoveOnly.includes(`${from} ${to}`)) return "not-by-scan";
  if (isGoodsInsOwn(from, to)) return "at-goods-in";
  return isStepOfTheReturn(status, to) ? "by-step" : null;
}

/** Decisions after which the pack is nobody's to have back. */
const givesThePackUp: readonly DecidableRemedy[] = ["dispose", "replace", "refund"];

/** Where the pack of a return could be scanned to next by this person, were it safe. */
export function nextPlaces(actor: Actor, place: CustodyPlace, status: ReturnStatus): CustodyPlace[] {
  return ways[place].filter((to) => isTheirs(actor, place, to) && whyNotByScan(place, to, status) === null);
}

/** Moves a pack by a scan alone. Out of quarantine only once its stay is ended there. */
export function scanCustody(
  actor: Actor,
  { quarantineMet, outgoing, status, ...standing }: ScanStanding,
  request: TrackRequest<CustodyPlace>,
): TrackOutcome<CustodyPlace> {
  const outcome = moveCustody(actor, standing, request);
  if (outcome.kind === "refused") return outcome;
  const why = whyNotByScan(outcome.from, outcome.to, status);
  if (why !== null) return trackRefused(why);
  if (outcome.from === "quarantine" && quarantineMet !== true) return trackRefused("quarantine-not-met");
  if (leadsOut(outcome.to) && outgoing !== null) return trackRefused(outgoing);
  return outcome;
}

/**
 * Moves a pack, with a step of its return or by scan (`scan-of-pack.ts` says whether it is the right one). One set apart goes nowhere but into quarantine, and one nobody may move not even there; what
 * arrives is always recorded, because a pack on the way is not made safer by not being counted.
 */
export function moveCustody(
  actor: Actor,
  standing: CustodyStanding,
  request: TrackRequest<CustodyPlace>,
): TrackOutcome<CustodyPlace> {
  const { state } = standing;
  const { to } = request;
  if (!isTheirs(actor, state, to)) return trackRefused("not-allowed");
  if (!ways[state].includes(to)) return trackRefused("not-from-here");
  if (!isArrival(state, to) && isShut(standing.safety, to)) return trackRefused("set-apart");
  if (standing.isOnHold && (to === "recycler" || to === "supplier")) return trackRefused("on-hold");
  if (standing.decidedRemedy === null && (to === "recycler" || to === "supplier")) return trackRefused("undecided");
  if (to === "recycler" && standing.decidedRemedy !== null && !givesThePackUp.includes(standing.decidedRemedy))
    return trackRefused("not-what-was-decided");
  if (to === "supplier" && !isGivenUp(standing)) return trackRefused("not-given-up");
  return trackStep(standing, request);
}

/** A sample is opened and does not come back: it is given up by the decision, or by the customer whose it is. */
function isGivenUp({ decidedRemedy, customerAgreed }: CustodyStanding): boolean {
  return customerAgreed || (decidedRemedy !== null && givesThePackUp.includes(decidedRemedy));
}

/**
 * Writes down where the case itself says that the pack is: come in at goods-in, handed over, lodged by a dealer who has it.
 * It happened, so no way shuts it; only under a legal hold nothing goes to a recycler.
 */
export function recordPlace(
  standing: TrackStanding<CustodyPlace> & { readonly isOnHold: boolean },
  request: TrackRequest<CustodyPlace>,
): TrackOutcome<CustodyPlace> {
  if (request.to === standing.state) return trackRefused("not-from-here");
  if (standing.isOnHold && request.to === "recycler") return trackRefused("on-hold");
  return trackStep(standing, request);
}

/** Where a pack is that a dealer lodges a return of; null where the record stays: in the maker's hands, recycled, or fetched by a specialist. */
export function placeWhenLodged(place: CustodyPlace): CustodyPlace | null {
  const isGone = place === "recycler" || place === "specialist";
  return place === "with-dealer" || isGone || atTheWorks.includes(place) ? null : "with-dealer";
}

/** Whether goods-in may write down that a pack came in: not while the record says that it is here, or gone for good. */
export function mayComeIn(place: CustodyPlace): boolean {
  return !atTheWorks.includes(place) && place !== "recycler";
}

function isShut(safety: SafetyState, to: CustodyPlace): boolean {
  return to === "quarantine" ? mayNotBeMoved(safety) : isSetApart(safety);
}

/** The end of a leg somebody else carried it on, or the news that it is missing: nothing is set in motion by the record. */
function isArrival(from: CustodyPlace, to: CustodyPlace): boolean {
  return from.startsWith("with-carrier") || from === "missing" || from === "with-customer" || to === "missing";
}

function isTheirs(actor: Actor, from: CustodyPlace, to: CustodyPlace): boolean {
  return isDealerRole(actor.role)
    ? may(actor, "confirm-at-counter") && dealersOwn.includes(`${from} ${to}`)
    : may(actor, "receive-pack") && from !== "with-customer" && to !== "with-customer" && from !== "with-dealer";
}
