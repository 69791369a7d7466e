import { type CalendarDate, compareDates } from "./calendar";
import { sayDate, sayMonths } from "./say-date";

export const sourceMarks = ["read in the text of the law", "read in a summary", "from memory: verify"] as const;

/** Where a statement of law was taken from. Every one is to be confirmed by counsel before anybody relies on it. */
export interface LegalSource {
  readonly named: string;
  readonly mark: (typeof sourceMarks)[number];
}

/** Counsel has compared a row with the law. */
export interface CounselsWord {
  readonly counselName: string;
  readonly counselQualification: string;
  readonly statement: string;
  readonly confirmedOn: CalendarDate;
  readonly recordedByName: string;
}

/** Version of the rows the program comes with. */
export const AT_SET_UP = "set-up";

/** The seller's own duty to a consumer in a country, for sales from a day on. A law changes by a new row. */
export interface LegalDuty {
  /** ISO 3166-1 alpha-2; EU for member states without a row of their own. */
  readonly country: string;
  readonly version: string;
  readonly salesFrom: CalendarDate;
  /** First day on which answers are drawn from this row; null for what the program comes with. */
  readonly countsFrom: CalendarDate | null;
  readonly confirmation: CounselsWord | null;
  /** Months from delivery within which a fault must appear; null where the law names no fixed time. */
  readonly months: number | null;
  /** What stands in place of a fixed time. */
  readonly insteadOfMonths: string | null;
  /** Months in which a fault is taken to have been there at delivery; null where the law has no such rule. */
  readonly burdenMonths: number | null;
  /** Days in which a consumer may reject the goods outright; null where there are none. */
  readonly rejectDays: number | null;
  /** Months by which a repair lengthens the time. */
  readonly monthsAfterRepair: number;
  /** How many repairs do so; the next one adds nothing. */
  readonly repairsThatLengthen: number;
  /** Whether the consumer may choose between repair and replacement, told of it or not. */
  readonly consumerChooses: boolean;
  /** Whether the consumer must be told of the choice and of the lengthening before a remedy. */
  readonly informBeforeRemedy: boolean;
  /** Whether a refurbished replacement needs the consumer's own request. */
  readonly refurbishedOnRequest: boolean;
  readonly sources: readonly LegalSource[];
}

/** The rows that are held, and the day whose rows are asked for: an answer keeps the rows of the day it was given on. */
export interface HeldDuties {
  readonly duties: readonly LegalDuty[];
  readonly answeredOn: CalendarDate;
}

/** The seller's duty in a country for a sale on a day; null where no row is held: then somebody must ask. */
export function legalDutyOn(
  country: string,
  soldOn: CalendarDate,
  { duties, answeredOn }: HeldDuties,
): LegalDuty | null {
  const counts = ({ countsFrom }: LegalDuty) => countsFrom === null || compareDates(countsFrom, answeredOn) <= 0;
  return duties
    .filter((duty) => duty.country === country && compareDates(duty.salesFrom, soldOn) <= 0 && counts(duty))
    .reduce<LegalDuty | null>((best, duty) => (best === null || goesBefore(duty, best) ? duty : best), null);
}

/** The law of the later sales, and of two rows about the same sales the one that counts since later. */
function goesBefore(one: LegalDuty, other: LegalDuty): boolean {
  const bySale = compareDates(one.salesFrom, other.salesFrom);
  if (bySale !== 0) return bySale > 0;
  if (one.countsFrom === null) return false;
  return other.countsFrom === null || compareDates(one.countsFrom, other.countsFrom) > 0;
}

/** The directive's own terms on a day, for a state whose national law is not held here; null before the first of them. */
export function directiveDutyOn(soldOn: CalendarDate, held: HeldDuties): LegalDuty | null {
  return legalDutyOn("EU", soldOn, held);
}

/** Stands under everything said about a law that no counsel has confirmed. */
export const FOR_COUNSEL = "To be confirmed by counsel; it informs the seller and decides nothing.";

/** The mark of a row, wherever it is printed. */
export function sayCounsel(duty: Pick<LegalDuty, "confirmation"> | null): string {
  const word = duty?.confirmation ?? null;
  return word === null
    ? FOR_COUNSEL
    : `Confirmed by counsel: ${word.counselName}, ${sayDate(word.confirmedOn)}. It informs the seller and decides nothing.`;
}

/** For a law that names no time: what lengthens "the time" has none to count from. */
export function lengthensNothingSentence(monthsAfterRepair: number): string {
  return `Whether the ${sayMonths(monthsAfterRepair)} that a repair adds to the time change anything where the law names no time: ask counsel.`;
}

/** One row in sentences. */
export function sayDuty(duty: LegalDuty): string {
  const { months, insteadOfMonths, burdenMonths, rejectDays, monthsAfterRepair } = duty;
  return [
    months === null
      ? (insteadOfMonths ?? "No fixed time.")
      : `A fault must appear within ${months} months of delivery.`,
    burdenMonths === null ? null : `Within ${burdenMonths} months it is taken to have been there at delivery.`,
    rejectDays === null ? null : `The consumer may reject the goods within ${rejectDays} days.`,
    monthsAfterRepair === 0 ? null : sayLengthening(duty),
    duty.consumerChooses ? "The consumer may choose between repair and replacement." : null,
    duty.informBeforeRemedy ? "The consumer is told of the choice and of the lengthening before a remedy." : null,
    duty.refurbishedOnRequest ? "A refurbished replacement needs the consumer's own request." : null,
  ]
    .filter((part) => part !== null)
    .join(" ");
}

function sayLengthening({ months, monthsAfterRepair, repairsThatLengthen }: LegalDuty): string {
  if (months === null) return lengthensNothingSentence(monthsAfterRepair);
  return repairsThatLengthen === 1
    ? `One repair lengthens the time once by ${monthsAfterRepair} months.`
    : `Each repair lengthens the time by ${monthsAfterRepair} months, ${repairsThatLengthen} repairs at the most.`;
}
