import { UTCDate } from "@date-fns/utc";
import { addDays, addMonths, differenceInCalendarDays } from "date-fns";

declare const calendarDateBrand: unique symbol;

/** A day on the calendar of some place, `YYYY-MM-DD`, known to exist. It is no instant and has no zone. */
export type CalendarDate = string & { readonly [calendarDateBrand]: true };

/** What people and files may give. Computed days may lie later, so that adding months to any given day stays defined. */
const GIVEN = /^(19|20|21)[0-9]{2}-[0-9]{2}-[0-9]{2}$/;
const COMPUTED = /^(19|[2-9][0-9])[0-9]{2}-[0-9]{2}-[0-9]{2}$/;

/** Whether the text is an existing day of the years 1900 to 2199: 2025-02-30 is not. */
export function isCalendarDate(text: string): text is CalendarDate {
  return GIVEN.test(text) && existsAsDay(text);
}

/** The text as a calendar date. Throws RangeError where it is none: use isCalendarDate on what people typed. */
export function calendarDate(text: string): CalendarDate {
  if (!isCalendarDate(text)) throw new RangeError(`${text} is not a day between 1900 and 2199 written YYYY-MM-DD`);
  return text;
}

/**
 * The same-numbered day so many months later, or the last day of that month where the day does not exist.
 *
 * All months are added to the given date at once. Adding month by month would clamp twice and lose days: 31 January
 * plus 1 plus 1 month gives 28 March, plus 2 months 31 March.
 * Source: Regulation (EEC, Euratom) No 1182/71, Art. 3(2)(c); German Civil Code s. 188(2) and (3).
 */
export function plusMonths(date: CalendarDate, months: number): CalendarDate {
  if (!Number.isInteger(months)) throw new RangeError(`months: a whole number, not ${months}`);
  return fromUtc(addMonths(toUtc(date), months));
}

/** The day so many days later. */
export function plusDays(date: CalendarDate, days: number): CalendarDate {
  if (!Number.isInteger(days)) throw new RangeError(`days: a whole number, not ${days}`);
  return fromUtc(addDays(toUtc(date), days));
}

/** Days from the first date to the second; negative when the second is earlier. */
export function daysBetween(from: CalendarDate, to: CalendarDate): number {
  return differenceInCalendarDays(toUtc(to), toUtc(from));
}

/** Negative, zero or positive as the first date is before, on or after the second. ISO dates sort as text. */
export function compareDates(first: CalendarDate, second: CalendarDate): number {
  return first < second ? -1 : first > second ? 1 : 0;
}

export function laterOf(first: CalendarDate, second: CalendarDate): CalendarDate {
  return compareDates(first, second) < 0 ? second : first;
}

function toUtc(date: CalendarDate): UTCDate {
  return new UTCDate(`${date}T00:00:00Z`);
}

function fromUtc(instant: Date): CalendarDate {
  const text = Number.isNaN(instant.getTime()) ? "no day" : instant.toISOString().slice(0, 10);
  if (!existsAsDay(text)) throw new RangeError(`the day computed is outside the years 1900 to 9999: ${text}`);
  return text;
}

function existsAsDay(text: string): text is CalendarDate {
  if (!COMPUTED.test(text)) return false;
  const instant = new UTCDate(`${text}T00:00:00Z`);
  // An impossible day rolls over into the next month (or gives an invalid date), so it does not come back the same.
  return !Number.isNaN(instant.getTime()) && instant.toISOString().startsWith(text);
}
