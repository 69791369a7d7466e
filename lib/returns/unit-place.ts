import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { atTheWorks, type CustodyPlace } from "./custody-track";
import { type TrackOutcome, type TrackRequest, type TrackStanding, trackRefused, trackStep } from "./track-step";

// Where a pack kept as a replacement is, once it was sent. One that was never sent lies in the store.

/** The one table of its ways. It is on the shelf again only after somebody looked at what came back. */
const ways: Readonly<Partial<Record<CustodyPlace, readonly CustodyPlace[]>>> = {
  "with-carrier-out": ["with-dealer", "quarantine", "missing"],
  "with-dealer": ["with-carrier-in", "quarantine", "missing"],
  "with-carrier-in": ["quarantine", "with-dealer", "missing"],
  missing: ["with-dealer", "quarantine"],
  quarantine: ["store"],
};

/** Places from which nobody can take a pack off the shelf. */
export const notOnTheShelf: readonly CustodyPlace[] = [
  "with-carrier-in",
  "with-carrier-out",
  "quarantine",
  "supplier",
  "recycler",
  "specialist",
  "missing",
];

/** Where one that was given up is still followed: at a dealer's it lies in no store of ours and belongs to nobody. */
export const followedWhenGivenUp: readonly CustodyPlace[] = [...notOnTheShelf, "with-dealer"];

/** Why a unit that was sent and did not arrive goes nowhere by now; null where it may, or is with a carrier or the dealer. */
export function whyUnitIsNotHere(place: CustodyPlace): string | null {
  if (place === "missing")
    return "The pack kept ready is missing. Record where it is once it turns up, or give it up and keep another.";
  if (place === "with-carrier-in")
    return "The pack kept ready is on its way back to us. Record where it is once it comes in, or keep another.";
  if (place === "quarantine")
    return "The pack kept ready came back and lies in quarantine. Record that it is in the store once somebody looked at it, or give it up and keep another.";
  return null;
}

/** Out of the house and neither handed over, nor back, nor given up as lost. */
const onItsWay: readonly CustodyPlace[] = ["with-carrier-out", "with-dealer", "with-carrier-in"];

/** From here it travels back under a class, label and packing of that way; "with the carrier" while it does. */
export const mayComeBackFrom: readonly CustodyPlace[] = ["with-dealer", "with-carrier-in"];

/** Whether a unit was sent and nobody knows yet how that ended; null stands for one that was never sent. */
export function isUnitOut(place: CustodyPlace | null): boolean {
  return place !== null && onItsWay.includes(place);
}

export function nextUnitPlaces(actor: Actor, place: CustodyPlace | null): readonly CustodyPlace[] {
  if (place === null) return [];
  const next = ways[place] ?? [];
  return may(actor, "receive-pack") ? next : next.filter((to) => isSendingBack(actor, to));
}

/** Whoever has the pack gives it to the carrier. */
function isSendingBack(actor: Actor, to: CustodyPlace): boolean {
  return to === "with-carrier-in" && may(actor, "confirm-at-counter");
}

/** A few words say nothing of a pack that another customer is to have. Rule of this house. */
const LEAST_LOOKED_AT_CHARACTERS = 20;

/** Records where a unit is now. What comes back is looked at before it lies on the shelf again. */
export function moveUnit(
  actor: Actor,
  standing: TrackStanding<CustodyPlace>,
  request: TrackRequest<CustodyPlace>,
): TrackOutcome<CustodyPlace> {
  if (!may(actor, "receive-pack") && !isSendingBack(actor, request.to)) return trackRefused("not-allowed");
  if (!nextUnitPlaces(actor, standing.state).includes(request.to)) return trackRefused("not-from-here");
  const isOnTheShelf = atTheWorks.includes(request.to) && request.to !== "quarantine";
  if (isOnTheShelf && request.reason.trim().length < LEAST_LOOKED_AT_CHARACTERS) return trackRefused("unit-unseen");
  return trackStep(standing, request);
}
