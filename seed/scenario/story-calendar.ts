import { TZDate } from "@date-fns/tz";
import { type CalendarDate, calendarDate, daysBetween, plusDays } from "@/lib/warranty/calendar";

/** The data date for which the story's dates are written down. */
export const storyDataDate = calendarDate("2026-11-20");

/** Turns a date of the story into a date of this scenario, which may be told for another data date. */
export type StoryCalendar = (storyDate: string) => CalendarDate;

export function storyCalendar(asOf: CalendarDate): StoryCalendar {
  const shiftDays = daysBetween(storyDataDate, asOf);
  return (storyDate) => plusDays(calendarDate(storyDate), shiftDays);
}

/** The instant, ISO 8601 in UTC, of a wall-clock time at a place. */
export function instantAt(date: CalendarDate, hour: number, minute: number, zone: string): string {
  const [year = 0, month = 1, day = 1] = date.split("-").map(Number);
  const local = new TZDate(year, month - 1, day, hour, minute, zone);
  return new Date(local.getTime()).toISOString();
}
