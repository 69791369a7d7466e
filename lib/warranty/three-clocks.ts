import type { CalendarDate } from "./calendar";
import { coverFactsSchema } from "./cover-facts.schema";
import { deliveryDay, type LegalClock, legalClock } from "./legal-clock";
import type { LegalDuty } from "./legal-duty";
import { sayDate } from "./say-date";

/** The two clocks beside the maker's guarantee, which must never be mistaken for it. */
export interface OtherClocks {
  readonly legal: LegalClock;
  /** What counts between maker and dealer, in one sentence. */
  readonly settlement: string;
}

/** A repair that was decided and never carried out lengthens nothing; kept answers of before this was asked count as carried out. */
function isRepairMade({
  remedy,
  isCarriedOut,
}: {
  readonly remedy: string | null;
  readonly isCarriedOut?: boolean | undefined;
}) {
  return (remedy === "repair" || remedy === "remote-fix") && isCarriedOut !== false;
}

interface ClockInput {
  readonly outcome: string;
  /** What the answer was drawn from, as stored or as given. */
  readonly facts: unknown;
  readonly startsOn: CalendarDate | null;
  readonly endsOn: CalendarDate | null;
  readonly evidence: string | null;
  readonly toldOn: CalendarDate;
  readonly settlement: { readonly startsOn: CalendarDate; readonly endsOn: CalendarDate } | null;
  /** Country of the dealer that lodged, where the country of the sale is not known. */
  readonly dealerCountry: string;
  /** Every row of the law that is held. */
  readonly duties: readonly LegalDuty[];
}

/** The seller's legal duty and the settlement between maker and dealer, each apart from the guarantee. */
export function otherClocks(input: ClockInput): OtherClocks {
  return { legal: clockOfLaw(input), settlement: settlementSentence(input) };
}

type LawInput = Omit<ClockInput, "endsOn" | "settlement">;

/**
 * The legal clock by the rows of a day: that of the answer unless another is asked about, because what was told a customer stays
 * what was told.
 */
export function clockOfLaw(input: LawInput, on?: CalendarDate): LegalClock {
  const read = coverFactsSchema.safeParse(input.facts);
  const facts = read.success ? read.data : null;
  return legalClock(
    {
      country: facts?.saleCountry ?? input.dealerCountry,
      soldOn: deliveryDay(input),
      toldOn: input.toldOn,
      buyerKind: facts?.buyerKind,
      repairsBefore: facts?.earlierReturns?.filter(isRepairMade).length ?? 0,
    },
    { duties: input.duties, answeredOn: on ?? facts?.today ?? input.toldOn },
  );
}

function settlementSentence({ settlement, endsOn }: ClockInput): string {
  if (settlement !== null)
    return `Between maker and dealer the time counts from ${sayDate(settlement.startsOn)} until ${sayDate(settlement.endsOn)}, because of the time on the shelf. It says nothing to the customer.`;
  return endsOn === null
    ? "Between maker and dealer nothing can be told before the start is known."
    : "Between maker and dealer the same days count as for the customer.";
}
