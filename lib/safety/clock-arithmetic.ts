import { TZDate } from "@date-fns/tz";
import { addDays, addHours, isWeekend, startOfDay } from "date-fns";
import { type CalendarDate, isCalendarDate } from "@/lib/warranty/calendar";
import type { ClockLimit } from "./reporting-clock.schema";

/** Public holidays of one place; a setting, because no list in a program stays right. */
export type Holidays = readonly CalendarDate[];

/**
 * The moment at which a limit ends: the first instant at which it is over, counted in the given zone. Null for a limit
 * that has no date. The day of the start is never counted (day limits); a limit in hours begins at once and, where only
 * working days count, stands still on weekends and holidays. Weekends are Saturday and Sunday.
 *
 * Sources: 16 CFR 1115.14(a) (weekends and holidays excluded); productsafety.gov.au on section 131 of the Australian
 * Consumer Law (day of awareness not counted, end moves on); Canada Consumer Product Safety Act, section 14 ("after the day").
 */
export function limitEnd(limit: ClockLimit, start: Date, zone: string, holidays: Holidays): Date | null {
  switch (limit.kind) {
    case "at-once":
      return null;
    case "hours":
      return instantOf(
        limit.workingDaysOnly ? addWorkingHours(start, limit.hours, zone, holidays) : addHours(start, limit.hours),
      );
    case "days":
      return dayLimitEnd(limit, start, zone, holidays);
    default: {
      const never: never = limit;
      return never;
    }
  }
}

/** The first instant after a day of the calendar in the given zone. */
export function dayEnd(day: CalendarDate, zone: string): Date {
  const [year = 0, month = 1, date = 1] = day.split("-").map(Number);
  return instantOf(addDays(new TZDate(year, month - 1, date, zone), 1));
}

function dayLimitEnd(
  { days, counted, movesToWorkingDay }: Extract<ClockLimit, { kind: "days" }>,
  start: Date,
  zone: string,
  holidays: Holidays,
): Date {
  let day: Date = startOfDay(new TZDate(start, zone));
  for (let left = days; left > 0; ) {
    day = addDays(day, 1);
    if (counted === "every-day" || isWorkingDay(day, holidays)) left -= 1;
  }
  while (movesToWorkingDay && !isWorkingDay(day, holidays)) day = addDays(day, 1);
  return instantOf(addDays(day, 1));
}

/** Walks from midnight to midnight, so that days of 23 or 25 hours count what they hold. */
function addWorkingHours(start: Date, hours: number, zone: string, holidays: Holidays): Date {
  let now: Date = new TZDate(start, zone);
  let leftMs = hours * 3_600_000;
  for (;;) {
    const midnight = addDays(startOfDay(now), 1);
    const restMs = isWorkingDay(now, holidays) ? midnight.getTime() - now.getTime() : 0;
    if (restMs >= leftMs) return new Date(now.getTime() + leftMs);
    leftMs -= restMs;
    now = midnight;
  }
}

function isWorkingDay(day: Date, holidays: Holidays): boolean {
  return !isWeekend(day) && !holidays.some((holiday) => holiday === civilDay(day));
}

/** The day a zoned date shows, as text. */
function civilDay(day: Date): CalendarDate {
  const two = (number: number) => String(number).padStart(2, "0");
  const text = `${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}`;
  if (!isCalendarDate(text)) throw new RangeError(`${text} is outside the calendar`);
  return text;
}

function instantOf(date: Date): Date {
  return new Date(date.getTime());
}
