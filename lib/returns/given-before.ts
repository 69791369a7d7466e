import type { DecidableRemedy } from "./decision.schema";

/** What the customer has received under a complaint before anything more is decided on it. */
export interface GivenBefore {
  /** Currency in which money went back; null where none did. */
  readonly moneyIn: string | null;
  /** Serial of the last pack handed over in place of the returned one; null where none was. */
  readonly unitSerial: string | null;
}

/** Nothing goes to the customer with these. */
const givesNothing: readonly DecidableRemedy[] = ["isolate", "dispose"];

/**
 * Whether a decision would leave the customer with more than one remedy: money beside a pack, or two packs. A refund after a
 * refund is no second one, because a decided refund is the whole of its complaint (`refund-owed.ts`). Rule of this house.
 */
export function givesBeside(remedy: DecidableRemedy, { moneyIn, unitSerial }: GivenBefore): boolean {
  if (givesNothing.includes(remedy)) return false;
  return unitSerial !== null || (moneyIn !== null && remedy !== "refund");
}
