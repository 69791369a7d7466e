import { atTheDealers, atTheWorks, type CustodyPlace } from "./custody-track";

/**
 * Whether a change of place ends a journey: the pack came to the works, or is at the dealer's or with its customer. What it
 * was declared, labelled and packed for is over then; the next way has papers of its own.
 */
export function endsJourney(from: CustodyPlace, to: CustodyPlace): boolean {
  return atTheDealers.includes(to) || (atTheWorks.includes(to) && !atTheWorks.includes(from));
}
