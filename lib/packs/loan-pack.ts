import { type StockPackFacts, whyItStaysInStock } from "./stock-pack";

/** What is known of a pack somebody wants to lend. */
export interface LoanPackFacts extends StockPackFacts {
  readonly isKept: boolean;
  /** Never dispatched: it would leave the works with a carrier, and no class of transport is declared for a loan. */
  readonly isAtTheWorks: boolean;
  /** Dispatched to another dealer than the one whose customer waits. */
  readonly isElsewhere: boolean;
}

/** Why a pack may not be lent, in words for the field; null where it may. A loan goes to a customer like any pack. */
export function whyPackMayNotBeLent(pack: LoanPackFacts | null): string | null {
  if (pack === null) return "No pack with this serial is known. Compare it with the label once more.";
  const stays = whyItStaysInStock(pack);
  // A stop is told last and without its lot: a dealer sees no lots, and of no pack but the own.
  if (stays !== null && stays.why !== "is-stopped") return stays.sentence;
  if (pack.isKept) return "This pack is kept as a replacement.";
  if (pack.isAtTheWorks)
    return "This pack is not in the dealer's stock: it lies at the works. What leaves the works needs a transport class, a label and packing, which a loan has not. Lend one that the dealer has.";
  if (pack.isElsewhere) return "This pack is not in the stock of the dealer whose customer waits.";
  const [stop] = pack.stops;
  return stop === undefined ? null : `This pack must not go out: ${stop.title}.`;
}
