import type { CalendarDate } from "./calendar";
import { coverFactsSchema } from "./cover-facts.schema";
import { type LegalClock, legalClock } from "./legal-clock";
import { sayDate } from "./say-date";

/** The two clocks beside the maker's guarantee, which must never be mistaken for it. */
export interface OtherClocks {
  readonly legal: LegalClock;
  /** What counts between maker and dealer, in one sentence. */
  readonly settlement: string;
}

interface ClockInput {
  /** What the answer was drawn from, as stored or as given. */
  readonly facts: unknown;
  readonly startsOn: CalendarDate | null;
  readonly endsOn: CalendarDate | null;
  readonly evidence: string | null;
  readonly toldOn: CalendarDate;
  readonly settlement: { readonly startsOn: CalendarDate; readonly endsOn: CalendarDate } | null;
  /** Country of the dealer that lodged, where the country of the sale is not known. */
  readonly dealerCountry: string;
}

/** The seller's legal duty and the settlement between maker and dealer, each apart from the guarantee. */
export function otherClocks(input: ClockInput): OtherClocks {
  const read = coverFactsSchema.safeParse(input.facts);
  const facts = read.success ? read.data : null;
  const isDelivery = input.evidence !== null && input.evidence !== "dispatch-plus-shelf-limit";
  return {
    legal: legalClock({
      country: facts?.saleCountry ?? input.dealerCountry,
      soldOn: isDelivery ? input.startsOn : null,
      toldOn: input.toldOn,
      buyerKind: facts?.buyerKind,
      repairsBefore: facts?.earlierReturns?.filter(({ remedy }) => remedy === "repair").length ?? 0,
    }),
    settlement: settlementSentence(input),
  };
}

function settlementSentence({ settlement, endsOn }: ClockInput): string {
  if (settlement !== null)
    return `Between maker and dealer the time counts from ${sayDate(settlement.startsOn)} until ${sayDate(settlement.endsOn)}, because of the time on the shelf. It says nothing to the customer.`;
  return endsOn === null
    ? "Between maker and dealer nothing can be told before the start is known."
    : "Between maker and dealer the same days count as for the customer.";
}
