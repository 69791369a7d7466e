import { z } from "zod";
import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import { DAY_MS } from "@/lib/warranty/clock-spans";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { refundTerm } from "@/lib/warranty/refund-term";
import { type ReturnStatus, returnStatuses } from "./return-status";

const days = z.int().min(0).max(3660);

/** With one 29 February. */
const FIVE_YEARS_IN_DAYS = 5 * 365 + 1;

/** Periods and limits of the life of a return, dated and versioned: a case is judged by the setting of its day. */
export const returnSettingsSchema = z.object({
  /** Calendar days in which whoever has the turn should have acted; a status that is missing has no due date. */
  dueDays: z.partialRecord(z.enum(returnStatuses), days),
  /** Reminders that must have gone out before a question lapses. */
  remindersBeforeLapse: z.int().min(0).max(20),
  /** How long after a decision, or after the hand-over, the dealer may object. */
  objectionDays: days,
  /** How long after a solution from a distance the customer may say that it did not last. */
  solvedReopenDays: days,
  /** How long after the hand-over a return is closed, and not before. */
  closeAfterDays: days,
  // The settings from here on came later; older versions say nothing of them and get what the program began with:
  // engineering defaults, no authority.
  /** An unfinished return is deleted so many days after it was last worked on. */
  draftKeptDays: days.min(1).default(14),
  /** A question is repeated so many days after it was asked or last repeated. */
  remindEveryDays: days.min(1).default(3),
  /** The dealer is told so many days before the permission to send ends. */
  expiryReminderDays: days.default(3),
  /** The safety officer is called again so many minutes after the last call, until somebody acknowledges. */
  callAgainMinutes: z.int().min(5).max(1440).default(30),
  /**
   * A customer's contact for safety notices is erased so many days after its return ended; five years at the most, as for a register
   * of complaints (Regulation (EU) 2023/988, Art. 9(2) and (8): verify). Engineering default: all of it.
   */
  contactKeptDays: z.int().min(30).max(FIVE_YEARS_IN_DAYS).default(FIVE_YEARS_IN_DAYS),
  /** Above this a refund needs a second person; in the smallest unit of the currency. */
  refundLimitMinor: z.int().min(0),
  refundLimitCurrency: z.string().regex(/^[A-Z]{3}$/),
  /** Above this whoever checked a line of money does not approve it; same currency. Without it the limit of a refund holds. */
  lineLimitMinor: z.int().min(0).optional(),
  /** Nor does whoever passed more than this alone in a day, over all returns; same currency. */
  dayLimitMinor: z.int().min(0).optional(),
  /**
   * A refund is paid within so many days of its being agreed; never more than the shortest time that a law known here gives. Later
   * settings may be shorter.
   */
  refundDays: z
    .int()
    .min(1)
    .max(refundTerm.days, `At most ${refundTerm.days} days: the law of some places gives no more.`)
    .default(refundTerm.days),
});

export type ReturnSettings = z.output<typeof returnSettingsSchema>;

export interface DatedReturnSettings extends ReturnSettings {
  readonly version: string;
  readonly validFrom: string;
}

/**
 * The setting in force on a day: the latest that had begun. Throws RangeError where none had, because a period must
 * never be invented.
 */
export function settingsOn(all: readonly DatedReturnSettings[], day: string): DatedReturnSettings {
  const begun = all.filter(({ validFrom }) => validFrom <= day).sort((a, b) => (a.validFrom < b.validFrom ? 1 : -1));
  const [latest] = begun;
  if (latest === undefined) throw new RangeError(`settings of returns: none in force on ${day}`);
  return latest;
}

/** When whoever has the turn should have acted; null where the status has no due date. */
export function dueAt(status: ReturnStatus, since: Date, settings: ReturnSettings): Date | null {
  const allowed = settings.dueDays[status];
  return allowed === undefined ? null : new Date(since.getTime() + allowed * DAY_MS);
}

/**
 * Last day of a period that is told to people in days, where they live: the day it begins is not counted, the last one
 * is whole (Regulation (EEC, Euratom) 1182/71, Art. 3; not binding on a maker's own period, but what a reader expects).
 */
export function lastDayOf(since: Date, days: number, timeZone: string): CalendarDate {
  return plusDays(civilDateAt(since, timeZone), days);
}

/** Whether a last day is not over yet; where there is none nothing runs. */
export function isNotOver(lastDay: CalendarDate | null, now: Date, timeZone: string): boolean {
  return lastDay !== null && civilDateAt(now, timeZone) <= lastDay;
}

/** Whether a period of whole days from an instant is still running. */
export function isWithinDays(since: Date, days: number, now: Date): boolean {
  return now.getTime() <= since.getTime() + days * DAY_MS;
}
