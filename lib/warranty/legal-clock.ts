import { type CalendarDate, compareDates, plusDays } from "./calendar";
import {
  FOR_COUNSEL,
  type HeldDuties,
  type LegalSource,
  legalDutyOn,
  lengthensNothingSentence,
  sayCounsel,
} from "./legal-duty";
import type { StartEvidence } from "./policy.schema";
import { sayDate, sayDays, sayMonths } from "./say-date";
import { windowEnd } from "./window-end";

/** Said beside every row of the table, and in none of them. */
export const lawSpokenBeside = {
  businessBuyer: "The buyer is a business: the rules for consumers may not apply. Ask counsel which do.",
  daysStandStill: "While a repair lasts these days stand still.",
  otherRights: "Other rights of the consumer may remain.",
  burdenTurned: "the consumer may have to show that the fault was there at delivery",
} as const;

export interface LegalFacts {
  /** Country of the sale. */
  readonly country: string;
  /** Delivery to the customer, as well as it is known; null where it is not. */
  readonly soldOn: CalendarDate | null;
  readonly toldOn: CalendarDate;
  readonly buyerKind?: string | undefined;
  /** Repairs that were carried out on the pack before this complaint. */
  readonly repairsBefore: number;
}

/** Evidence of a delivery to a customer; what is estimated from other days starts no legal clock. */
const deliveryEvidence: readonly string[] = [
  "delivery-receipt",
  "registration-before-complaint",
  "statement-at-complaint",
] satisfies StartEvidence[];

/**
 * The day of delivery that the law counts from, as an answer on cover knows it; null where that answer could not tell, or
 * rests on an estimate: a guess is not told to anybody as the day of their purchase.
 */
export function deliveryDay({
  outcome,
  evidence,
  startsOn,
}: {
  readonly outcome: string;
  readonly evidence: string | null;
  readonly startsOn: CalendarDate | null;
}): CalendarDate | null {
  const isKnown = outcome !== "cannot-tell-yet" && evidence !== null && deliveryEvidence.includes(evidence);
  return isKnown ? startsOn : null;
}

export interface LegalClock {
  /** Last day of the seller's time, that day included; null where the law names none or the sale is not known. */
  readonly endsOn: CalendarDate | null;
  readonly sentences: readonly string[];
  readonly sources: readonly LegalSource[];
  /** Which row of the table it was drawn from; null where none was. */
  readonly row: { readonly version: string; readonly salesFrom: CalendarDate } | null;
  /** Whether counsel confirmed that row. */
  readonly counsel: string;
}

/**
 * What the law of the country of sale asks of the seller, apart from the maker's guarantee. It never says that a
 * consumer has no rights: after a time has run, other rights may remain.
 */
export function legalClock(
  { country, soldOn, toldOn, buyerKind, repairsBefore }: LegalFacts,
  held: HeldDuties,
): LegalClock {
  if (soldOn === null) {
    return {
      endsOn: null,
      sentences: ["The seller's duty counts from delivery to the customer, and that day is not known yet. Ask for it."],
      sources: [],
      row: null,
      counsel: FOR_COUNSEL,
    };
  }
  const duty = legalDutyOn(country, soldOn, held);
  if (duty === null) {
    return {
      endsOn: null,
      sentences: [
        `The law of the country of sale (${country}) is not held here. Ask counsel before anything is refused.`,
      ],
      sources: [],
      row: null,
      counsel: FOR_COUNSEL,
    };
  }
  const business = buyerKind === "business" ? [lawSpokenBeside.businessBuyer] : [];
  const { months, monthsAfterRepair, repairsThatLengthen, burdenMonths, rejectDays, sources } = duty;
  const counted = Math.min(repairsBefore, repairsThatLengthen);
  const longerByMonths = counted * monthsAfterRepair;
  const isLonger = longerByMonths > 0;
  const mayGrow = monthsAfterRepair > 0 && counted < repairsThatLengthen;
  const all = months === null ? null : months + longerByMonths;
  const endsOn = all === null ? null : windowEnd(soldOn, all, "february-28");
  return {
    endsOn,
    sentences: [
      ...business,
      ...(all === null || endsOn === null ? [duty.insteadOfMonths ?? ""] : [timeSentence(all, soldOn, endsOn, toldOn)]),
      ...(isLonger && endsOn !== null ? [lengthenedSentence(counted, repairsThatLengthen, monthsAfterRepair)] : []),
      ...(burdenMonths === null ? [] : [burdenSentence(soldOn, burdenMonths, toldOn)]),
      ...(rejectDays === null ? [] : [rejectSentence(soldOn, rejectDays, toldOn)]),
      ...(monthsAfterRepair > 0 && endsOn === null ? [lengthensNothingSentence(monthsAfterRepair)] : []),
      ...(mayGrow && endsOn !== null
        ? [
            `${isLonger ? "Another" : "A"} repair would lengthen the time ${repairsThatLengthen === 1 ? "once " : ""}by ${sayMonths(monthsAfterRepair)}.`,
          ]
        : []),
    ],
    sources,
    row: { version: duty.version, salesFrom: duty.salesFrom },
    counsel: sayCounsel(duty),
  };
}

function lengthenedSentence(counted: number, most: number, months: number): string {
  return most === 1
    ? `One repair lengthens the time once by ${sayMonths(months)}; that is counted here.`
    : `Each repair lengthens the time by ${sayMonths(months)}, ${most} at the most; ${counted === 1 ? "one is" : `${counted} are`} counted here.`;
}

function timeSentence(months: number, soldOn: CalendarDate, endsOn: CalendarDate, toldOn: CalendarDate): string {
  const time = `For a sale on ${sayDate(soldOn)} the seller's time of ${sayMonths(months)} runs until ${sayDate(endsOn)}`;
  return compareDates(toldOn, endsOn) <= 0
    ? `${time}: the complaint came within it.`
    : `${time}: the complaint came later. ${lawSpokenBeside.otherRights}`;
}

function burdenSentence(soldOn: CalendarDate, months: number, toldOn: CalendarDate): string {
  const until = windowEnd(soldOn, months, "february-28");
  return compareDates(toldOn, until) <= 0
    ? `A fault that appears until ${sayDate(until)} is taken to have been there at delivery, unless the seller shows otherwise.`
    : `After ${sayDate(until)} ${lawSpokenBeside.burdenTurned}.`;
}

function rejectSentence(soldOn: CalendarDate, days: number, toldOn: CalendarDate): string {
  const until = plusDays(soldOn, days);
  return compareDates(toldOn, until) <= 0
    ? `Until ${sayDate(until)} the consumer may reject the goods outright. ${lawSpokenBeside.daysStandStill}`
    : `The ${sayDays(days)} for rejecting the goods outright ran until ${sayDate(until)}, not counting days of repair.`;
}
