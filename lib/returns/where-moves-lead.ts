import { packItselfGoesOut } from "./case-guards";
import { caseMoves } from "./case-moves";
import { atTheDealers, atTheWorks, type CustodyPlace } from "./custody-track";
import type { MoveName } from "./move-names";
import type { ReturnStanding } from "./return-standing";
import type { ReturnStatus } from "./return-status";

/**
 * Moves that say where the pack is now, whoever carried it there: handed to a carrier, given back by one, come in, handed over, taken away by a
 * recycler. Nothing but a hold keeps such a record from being written; the other moves take the pack along its usual ways.
 */
export const saysWhereItIs: readonly MoveName[] = [
  "hand-to-carrier",
  "come-back",
  "receive",
  "hand-back",
  "finish-work",
];

/** Where the pack is after a move; null where the move leaves it where it is. */
export function placeAfter(name: MoveName, { custody, decidedRemedy }: ReturnStanding): CustodyPlace | null {
  const to = caseMoves[name].custodyTo ?? null;
  const place = to === null ? placeByRemedy(name, decidedRemedy, custody) : to;
  return place === custody ? null : place;
}

function placeByRemedy(
  name: MoveName,
  decidedRemedy: ReturnStanding["decidedRemedy"],
  custody: CustodyPlace,
): CustodyPlace | null {
  // What goes out is the pack itself, over the dealer's counter; one that never left it stays where it is.
  if (name === "hand-back" && packItselfGoesOut(decidedRemedy) && !atTheDealers.includes(custody)) {
    return "with-dealer";
  }
  // Disposed of where it was: it is gone once the work is finished. What a specialist fetched stays written down as that.
  if (custody === "specialist") return null;
  if (name === "finish-work" && decidedRemedy === "dispose" && !atTheWorks.includes(custody)) return "recycler";
  return null;
}

/** Where a move leads from here. A question leads back to where it was asked, also once it lapsed, a proposal that is not approved to where it was made. */
export function destinationOf(name: MoveName, standing: ReturnStanding): ReturnStatus | null {
  const { past, secondPerson } = standing;
  switch (name) {
    case "prove-sale":
    case "choose-proof":
    case "give-letter":
    case "add-readings":
      return standing.status;
    case "answer":
      return past.question?.from ?? null;
    case "take-up-again":
      return past.askedBeforeLapse;
    case "send-back":
    case "veto":
      return past.proposal?.from ?? null;
    case "approve":
      return secondPerson.length === 0 ? "decided" : "decision-proposed";
    default:
      return caseMoves[name].to;
  }
}
