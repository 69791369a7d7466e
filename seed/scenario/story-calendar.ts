import { TZDate } from "@date-fns/tz";
import { type CalendarDate, calendarDate, daysBetween, plusDays } from "@/lib/warranty/calendar";

const DAYS_PER_WEEK = 7;

/** The data date for which the story's dates are written down. */
export const storyDataDate = calendarDate("2026-11-20");

/** Turns a date of the story into a date of this scenario, which may be told for another data date. */
export type StoryCalendar = (storyDate: string) => CalendarDate;

/** @throws RangeError where the data date is not whole weeks from the story's: its Sundays would become working days. */
export function storyCalendar(asOf: CalendarDate): StoryCalendar {
  const shiftDays = daysBetween(storyDataDate, asOf);
  if (shiftDays % DAYS_PER_WEEK !== 0) {
    throw new RangeError(`story: ${asOf} is not whole weeks from ${storyDataDate}`);
  }
  return (storyDate) => plusDays(calendarDate(storyDate), shiftDays);
}

/** The way back: the date which the story itself has for a date of this scenario, so that chance falls alike in both. */
export function storyDateOf(date: CalendarDate, asOf: CalendarDate): CalendarDate {
  return plusDays(date, daysBetween(asOf, storyDataDate));
}

/** The last day up to today for which the story can be told: at most six days ago. */
export function lastDataDate(today: CalendarDate): CalendarDate {
  const days = daysBetween(storyDataDate, today);
  return plusDays(storyDataDate, Math.floor(days / DAYS_PER_WEEK) * DAYS_PER_WEEK);
}

/** The instant, ISO 8601 in UTC, of a wall-clock time at a place. */
export function instantAt(date: CalendarDate, hour: number, minute: number, zone: string): string {
  const [year = 0, month = 1, day = 1] = date.split("-").map(Number);
  const local = new TZDate(year, month - 1, day, hour, minute, zone);
  return new Date(local.getTime()).toISOString();
}
