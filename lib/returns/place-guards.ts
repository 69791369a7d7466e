import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { type Guard, packItselfGoesOut, unless } from "./case-guards";
import { atTheDealers, atTheWorks, type CustodyPlace, isWithTheMaker, outOfReach } from "./custody-track";
import type { DecidableRemedy } from "./decision.schema";
import type { WhoseTurn } from "./return-turn";
import { isSetApart } from "./safety-track";

// Conditions of moves that ask where the pack is, and whether a decision still reaches it.

/** On the dealer's side, or on a carrier's leg that somebody there can end or begin. */
export const packIsWithThem: Guard = ({ standing: { custody } }) => {
  if (atTheWorks.includes(custody)) return "pack-is-here";
  return unless(atTheDealers.includes(custody) || custody.startsWith("with-carrier"), "pack-out-of-reach");
};

/** Given back to the dealer by a carrier, or turned up there again: not what lies here, with a supplier or recycled. */
export const packCanBeWithThemAgain: Guard = (move) =>
  move.standing.custody === "missing" ? null : packIsWithThem(move);

/** A return whose pack is with the maker, or on the way there, is not dropped: it ends with a decision on the pack. */
export const packIsNotWithUs: Guard = ({ standing: { custody } }) =>
  unless(!isWithTheMaker(custody), "pack-is-with-us");

/** Decided already, the pack is asked for only where what was decided happens to it. */
export const packIsCalledFor: Guard = ({ standing: { status, decidedRemedy } }) =>
  unless(status !== "decided" || (decidedRemedy !== null && happensToThePack.includes(decidedRemedy)), "not-from-here");

/** Of these something is done with the returned pack itself. */
const happensToThePack: readonly DecidableRemedy[] = ["repair", "dispose", "isolate"];

/** What is carried out is in order for a carrier: the returned pack where it still lies here, or the one kept in its place. */
export const outgoingMayTravel: Guard = ({ standing: { decidedRemedy, custody, known } }) =>
  travelsOut(decidedRemedy, custody) ? known.outgoing : null;

/** Whether something is carried out with the hand-over that no scan has asked of: one scanned to a carrier was asked there. */
export function travelsOut(remedy: DecidableRemedy | null, custody: CustodyPlace): boolean {
  return remedy === "replace" || (remedy !== null && packItselfGoesOut(remedy) && atTheWorks.includes(custody));
}

/** Where what is carried out has left us, and the dealer has the next step: to confirm the receipt. */
const onTheirSide: readonly CustodyPlace[] = ["with-carrier-out", "with-dealer", "with-customer"];

/**
 * Whose turn a return is that is ready to hand back: the dealer's once what goes out is on its way there, ours while it still has to
 * be declared, packed and given to a carrier, or is missing. `unitPlace` is that of a pack kept in its place; null where it was never
 * sent, or none is kept.
 */
export function turnWhenReady({
  decidedRemedy,
  custody,
  unitPlace,
}: {
  readonly decidedRemedy: DecidableRemedy | null;
  readonly custody: CustodyPlace;
  readonly unitPlace: CustodyPlace | null;
}): Extract<WhoseTurn, "dealer" | "maker"> {
  if (decidedRemedy === "replace") return unitPlace !== null && onTheirSide.includes(unitPlace) ? "dealer" : "maker";
  const goesOut = decidedRemedy !== null && packItselfGoesOut(decidedRemedy);
  return !goesOut || onTheirSide.includes(custody) ? "dealer" : "maker";
}

/** Shorter than a carrier's name and a number. Rule of this house. */
const LEAST_PROOF_CHARACTERS = 8;

/**
 * What no dealer confirms is proven: who delivered it, under which number, and on which day. The term of a replacement and the time to
 * object begin with it. With a refund or a disposal nothing is delivered.
 */
export const deliveryIsProven: Guard = ({ actor, standing: { decidedRemedy, past, now, timeZone }, stated }) => {
  if (actor.dealerId !== null || decidedRemedy === "refund" || decidedRemedy === "dispose") return null;
  const { deliveredOn, deliveryProof = "" } = stated;
  if (deliveredOn === undefined || deliveryProof.length < LEAST_PROOF_CHARACTERS) return "delivery-unproven";
  const first = past.decidedAt === null ? deliveredOn : civilDateAt(new Date(past.decidedAt), timeZone);
  return unless(first <= deliveredOn && deliveredOn <= civilDateAt(now, timeZone), "delivery-day-wrong");
};

/** A pack disposed of at the dealer's is gone with this move: who took it is written down. Hold and flag are asked by `whatGoesOutIsSafe`. */
export const disposalThereIsRecorded: Guard = ({ standing: { decidedRemedy, custody }, stated }) => {
  const isGone = custody === "recycler" || custody === "specialist";
  if (decidedRemedy !== "dispose" || atTheWorks.includes(custody) || isGone) return null;
  return unless(stated.takenAwayBy !== undefined, "outcome-missing");
};

/**
 * A decision under way is taken up again where it cannot be carried out: the pack is set apart, held, or out of reach, what goes out
 * is stopped, the customer has not agreed to the refund, or no pack is kept that could go out in its place.
 */
export const decisionCannotGoOn: Guard = ({
  standing: { status, decidedRemedy, safety, custody, isOnHold, known },
}) => {
  if (status === "closed" || decidedRemedy === "isolate" || isSetApart(safety)) return null;
  if (known.outgoingIsStopped === true) return null;
  if (decidedRemedy === "refund" && !known.refundIsAgreed) return null;
  if (status === "decided" && decidedRemedy === "replace" && known.reservedSerial === null) return null;
  const isDisposal = decidedRemedy === "dispose";
  if (isOnHold && (isDisposal || (packItselfGoesOut(decidedRemedy) && atTheWorks.includes(custody)))) return null;
  const isDisposedOf = isDisposal && custody === "specialist";
  const needsThePack = isDisposal ? status === "decided" && !isDisposedOf : packItselfGoesOut(decidedRemedy);
  return unless(needsThePack && outOfReach.includes(custody), "decision-can-go-on");
};
