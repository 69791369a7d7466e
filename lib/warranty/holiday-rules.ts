import { UTCDate } from "@date-fns/utc";
import { getDay } from "date-fns";
import { type CalendarDate, isCalendarDate, plusDays } from "./calendar";

/** When a public holiday falls: on a day of every year, so many days from Easter, on a weekday of a month, or on one day. */
export type HolidayRule =
  | { readonly kind: "yearly"; readonly month: number; readonly day: number }
  | { readonly kind: "easter"; readonly days: number }
  /** The so-many-th weekday of a month, counted from its end where negative; 0 is Sunday. */
  | { readonly kind: "weekday"; readonly month: number; readonly weekday: number; readonly count: number }
  | { readonly kind: "once"; readonly on: CalendarDate };

const weekdays: readonly string[] = ["sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"];
const counts: Readonly<Record<string, number>> = { first: 1, second: 2, third: 3, fourth: 4, last: -1 };

/** Reads a rule as people write it: `12-25`, `easter+1`, `third monday 01`, `last monday 05`, `2026-10-03`. Null where it is none. */
export function readHolidayRule(written: string): HolidayRule | null {
  const text = written.trim().toLowerCase();
  const yearly = /^(\d{2})-(\d{2})$/.exec(text);
  // A leap year, so that 29 February may be written.
  if (yearly !== null && isCalendarDate(`2024-${text}`)) {
    return { kind: "yearly", month: Number(yearly[1]), day: Number(yearly[2]) };
  }
  const easter = /^easter([+-]\d{1,3})?$/.exec(text);
  if (easter !== null) return { kind: "easter", days: Number(easter[1] ?? 0) };
  const [nth = "", day = "", month = ""] = text.split(/\s+/);
  const count = counts[nth];
  const weekday = weekdays.indexOf(day);
  if (count !== undefined && weekday >= 0 && /^(0[1-9]|1[0-2])$/.test(month)) {
    return { kind: "weekday", month: Number(month), weekday, count };
  }
  return isCalendarDate(text) ? { kind: "once", on: text } : null;
}

/** Rules as people write them; one that nobody can read any more is left out: it would only have lengthened a time. */
export function readHolidayList(written: readonly string[]): readonly HolidayRule[] {
  return written.flatMap((one) => readHolidayRule(one) ?? []);
}

/** The day a rule gives in a year; null where it gives none. */
export function holidayIn(rule: HolidayRule, year: number): CalendarDate | null {
  switch (rule.kind) {
    case "yearly":
      return existing(year, rule.month, rule.day);
    case "easter":
      return plusDays(easterSunday(year), rule.days);
    case "weekday":
      return nthWeekday(year, rule);
    case "once":
      return rule.on.startsWith(`${year}-`) ? rule.on : null;
    default: {
      const never: never = rule;
      return never;
    }
  }
}

/** Whether a day is a public holiday by these rules. */
export function isHoliday(date: CalendarDate, rules: readonly HolidayRule[]): boolean {
  const year = Number(date.slice(0, 4));
  return rules.some((rule) => holidayIn(rule, year) === date);
}

/**
 * Easter Sunday of the Gregorian calendar, for the years that a calendar date can hold.
 * Source: the anonymous algorithm as given by J. Meeus, Astronomical Algorithms, chapter 8 (from memory; checked against
 * published dates in the tests).
 */
export function easterSunday(year: number): CalendarDate {
  const a = year % 19;
  const b = Math.floor(year / 100);
  const c = year % 100;
  const d = Math.floor(b / 4);
  const e = b % 4;
  const f = Math.floor((b + 8) / 25);
  const g = Math.floor((b - f + 1) / 3);
  const h = (19 * a + b - d - g + 15) % 30;
  const i = Math.floor(c / 4);
  const k = c % 4;
  const l = (32 + 2 * e + 2 * i - h - k) % 7;
  const m = Math.floor((a + 11 * h + 22 * l) / 451);
  const month = Math.floor((h + l - 7 * m + 114) / 31);
  const day = ((h + l - 7 * m + 114) % 31) + 1;
  const date = existing(year, month, day);
  if (date === null) throw new RangeError(`${year}: no year of the calendar`);
  return date;
}

function existing(year: number, month: number, day: number): CalendarDate | null {
  const two = (number: number) => String(number).padStart(2, "0");
  const text = `${year}-${two(month)}-${two(day)}`;
  return isCalendarDate(text) ? text : null;
}

function nthWeekday(year: number, { month, weekday, count }: Extract<HolidayRule, { kind: "weekday" }>) {
  const days = Array.from({ length: 31 }, (_, index) => existing(year, month, index + 1)).filter(
    (date) => date !== null && getDay(new UTCDate(`${date}T12:00:00Z`)) === weekday,
  );
  return days.at(count < 0 ? count : count - 1) ?? null;
}
